// @ts-check
/**
 * Files in and out, as the browser allows: a download, and a file that the
 * person picks. The page reads nothing by itself.
 */

/**
 * @param {string} name
 * @param {string} text
 * @param {string} [type] of the content
 */
export function saveText(name, text, type = 'application/json') {
  save(name, new Blob([text], { type }));
}

/**
 * @param {string} name
 * @param {Uint8Array<ArrayBuffer>} bytes
 * @param {string} type of the content
 */
export function saveBytes(name, bytes, type) {
  save(name, new Blob([bytes], { type }));
}

/**
 * @param {string} name
 * @param {Blob} content
 */
export function save(name, content) {
  const address = URL.createObjectURL(content);
  const anchor = document.createElement('a');
  anchor.href = address;
  anchor.download = name;
  anchor.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/**
 * A file name from what a person called the family.
 * @param {string} name
 * @param {string} ending
 */
export function fileName(name, ending) {
  const plain = name.normalize('NFKD').replace(/[^\w\- ]+/g, '').trim().replace(/\s+/g, '-').toLowerCase();
  return `${plain || 'family'}.${ending}`;
}

/** What can be read, as the browser's picker wants it. */
const READABLE = '.json,.svg,.txt,.dat,.csv';

/** Larger files are no families; bytes. */
const LARGEST = 32 * 1024 * 1024;

/**
 * @typedef {object} Arrival something that may hold a family
 * @property {string} name of the file; empty when it had none
 * @property {Uint8Array} bytes
 */

/**
 * Whether something is a series file; its form is looked at where it is read.
 * @param {Arrival} arrival
 */
export function isSeries({ bytes }) {
  try {
    return bytes.length < 1 << 20 && JSON.parse(new TextDecoder().decode(bytes)).format === 'loftkin-series';
  } catch {
    return false;
  }
}

/**
 * Lets the person pick a file.
 * @returns {Promise<File[]>} empty when they think better of it
 */
export function pickFiles() {
  return new Promise((resolve) => {
    const input = document.createElement('input');
    input.type = 'file';
    input.accept = READABLE;
    input.multiple = true;
    input.addEventListener('change', () => resolve([...(input.files ?? [])]));
    input.addEventListener('cancel', () => resolve([]));
    input.click();
  });
}

/**
 * @param {Iterable<File>} files
 * @returns {Promise<Arrival[]>}
 */
export function readFiles(files) {
  return Promise.all([...files].map(async (file) => {
    if (LARGEST < file.size) throw new Error(`“${file.name}” has ${Math.round(file.size / 1e6)} MB, and a family file has 33 at most: it is left unread`);
    return { name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) };
  }));
}
