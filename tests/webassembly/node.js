// Put before the compiled program. Its own loader would fetch the engine by address, as a page does; Node (18 and newer
// know fetch as well) has no address to fetch a file from, so it is handed over as bytes.
Module.wasmBinary = require('fs').readFileSync(__dirname + '/zoneproof.wasm');
