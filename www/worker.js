// @ts-check
/**
 * Where a worker begins: takes the compiled module once, then work by work, and
 * tells how far it has come. It is stopped by ending it.
 */
import * as kernel from './loftkin_worker.js';
import { perform } from './work/tasks.js';

self.addEventListener('message', ({ data }) => {
  if (data.module) {
    kernel.initSync({ module: data.module });
    return;
  }
  const { id, kind, asked } = data;
  try {
    const answer = perform(kernel, kind, asked, (told) => self.postMessage({ id, told }));
    self.postMessage({ id, answer });
  } catch (error) {
    const broken = error instanceof WebAssembly.RuntimeError;
    self.postMessage({ id, failed: error instanceof Error ? error.message : String(error), broken });
  }
});
