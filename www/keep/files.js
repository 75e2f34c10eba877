// @ts-check
/**
 * Files in and out, as the browser allows: a download, and a file that the
 * person picks. The page reads nothing by itself.
 */

/**
 * @param {string} name
 * @param {string} text
 */
export function saveText(name, text) {
  const address = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
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

/**
 * Lets the person pick a file.
 * @param {string} accept
 * @returns {Promise<{name: string, bytes: Uint8Array} | null>}
 */
export function pickFile(accept) {
  return new Promise((resolve, reject) => {
    const input = document.createElement('input');
    input.type = 'file';
    input.accept = accept;
    input.addEventListener('change', () => {
      const file = input.files?.[0];
      if (!file) resolve(null);
      else file.arrayBuffer().then((bytes) => resolve({ name: file.name, bytes: new Uint8Array(bytes) }), reject);
    });
    input.addEventListener('cancel', () => resolve(null));
    input.click();
  });
}
