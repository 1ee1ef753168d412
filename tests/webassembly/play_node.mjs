// play_node.mjs ENGINE: runs play.mjs in Node; {script, rounds} on standard input, everything it gives on standard output.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { memoryOfRounds, play, promises } from './play.mjs';

const folder = process.argv[2];
const { loadEngine } = await import(pathToFileURL(join(folder, 'engine.mjs')));
const options = { wasmBinary: readFileSync(join(folder, 'zoneproof_engine.wasm')) };
const { script, rounds } = JSON.parse(readFileSync(0, 'utf8'));
process.stdout.write(
  JSON.stringify({
    answers: await play(loadEngine, options, script),
    memory: await memoryOfRounds(loadEngine, options, rounds.scene, rounds.question, rounds.count),
    promises: await promises(loadEngine, options),
  }),
);
