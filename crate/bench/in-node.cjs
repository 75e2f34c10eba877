/**
 * Measures in WebAssembly under Node.js and prints lines whose fields are parted by tabs.
 *
 * The argument is the module that the wasm-bindgen step wrote; `cargo bench-all` gives it. Alone the cases: name and
 * microseconds. With `mending COUNT`: the seed of each faulty family and the milliseconds its mend took, NaN when it was
 * not mended. With `runs`: what is done with each piece of a run, and the pieces a minute.
 */

const { performance } = require('node:perf_hooks');

const bench = require(process.argv[2]);
const now = () => performance.now();
if (process.argv[3] === 'mending') {
  for (let seed = 0; seed < Number(process.argv[4]); seed += 1) {
    console.log(`${seed}\t${bench.mending(seed, now)}`);
  }
} else if (process.argv[3] === 'runs') {
  console.log(bench.runs(now));
} else {
  for (let index = 0; index < bench.count(); index += 1) {
    console.log(`${bench.name(index)}\t${bench.measure(index, now)}`);
  }
}
