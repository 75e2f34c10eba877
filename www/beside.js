// @ts-check
/**
 * What work beside the page needs: its module, which is fetched and compiled
 * when the first work is asked for, and a way to start a worker.
 */

/** @typedef {typeof import('./loftkin_worker.js')} WorkKernel */

/**
 * @typedef {object} Means
 * @property {() => Promise<WebAssembly.Module>} compiled
 * @property {() => Worker} hire starts a worker; throws where the browser gives none
 * @property {() => Promise<WorkKernel>} here the same works in the page itself
 */

const script = new URL('./worker.js', import.meta.url);

/** @type {Promise<WebAssembly.Module> | undefined} */
let compiling;

/** @type {Means} */
export const means = {
  compiled() {
    compiling ??= compile(new URL('./loftkin_worker_bg.wasm', import.meta.url)).catch((error) => {
      // Another time the network may be there again.
      compiling = undefined;
      throw new Error(`this part of the page could not be fetched (${error instanceof Error ? error.message : error}): try again when the network is there`);
    });
    return compiling;
  },

  hire: () => new Worker(script, { type: 'module' }),

  async here() {
    const kernel = await import('./loftkin_worker.js');
    kernel.initSync({ module: await means.compiled() });
    return kernel;
  },
};

/**
 * @param {URL | BufferSource} source an address; in the page that is one file, the bytes
 * @returns {Promise<WebAssembly.Module>}
 */
async function compile(source) {
  if (!(source instanceof URL)) return WebAssembly.compile(source);
  const response = await fetch(source);
  if (!response.ok) throw new Error(`the host answers ${response.status}`);
  return WebAssembly.compile(await response.arrayBuffer());
}
