/**
 * Measures the cases in WebAssembly under Node.js and prints a line for each: name and microseconds, parted by a tab.
 *
 * The argument is the module that the wasm-bindgen step wrote; `cargo bench-all` gives it.
 */

const { performance } = require('node:perf_hooks');

const bench = require(process.argv[2]);
const now = () => performance.now();
for (let index = 0; index < bench.count(); index += 1) {
  console.log(`${bench.name(index)}\t${bench.measure(index, now)}`);
}
