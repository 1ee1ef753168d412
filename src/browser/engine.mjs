// The engine for JavaScript: the same answers as the command, in a page, a worker or Node (18 or newer).
//
//   import { loadEngine } from './engine.mjs';
//   const engine = await loadEngine();
//   const opened = engine.open(text, { name: 'kiln-yard.site.json' });
//   if (opened.session) {
//     const proof = opened.session.ask({ command: 'prove', links: ['loop'] });
//     const done = opened.session.apply({ base_revision: opened.session.revision, operations: [...] });
//     opened.session.apply(done.results.undo);
//     opened.session.close();
//   }
//
// Every answer is an object of zoneproof-results (docs/guide/json.md): what was refused has results.problems, and nothing
// is thrown for it. What must not happen (no memory, a fault of the engine's machine) throws EngineFault; after that the
// engine answers nothing more, and a page loads it again.
import createModule from './zoneproof_engine.mjs';

/** The engine has stopped: no memory, or a fault that it could not tell in words. */
export class EngineFault extends Error {}

/**
 * Loads the engine, which lies beside this file.
 * @param {{ wasmBinary?: ArrayBuffer | Uint8Array }} [options] the compiled engine as bytes, where there is no address to
 *   fetch it from (Node)
 * @returns {Promise<Engine>}
 */
export async function loadEngine(options = {}) {
  return new Engine(await createModule(options));
}

class Engine {
  #module;
  #broken = null;

  constructor(module) {
    this.#module = module;
  }

  /**
   * Opens a site.
   * @param {string} site the text of a site file
   * @param {{ name?: string, parts?: string, partsName?: string }} [about] what messages call the text; a person's own
   *   parts, as they would stand in NAME.parts.json, and their name
   * @returns {{ results: object, session: Session | null }} the answer, and the session where there is one
   */
  open(site, { name = 'site', parts = null, partsName = 'parts' } = {}) {
    const text = this._call('open', [], parts === null ? [site, name, null, null] : [site, name, parts, partsName]);
    const { results } = JSON.parse(text);
    return { results, session: results.session ? new Session(this, results) : null };
  }

  /** The memory that the engine has taken, in bytes; it grows and is not given back before the page goes. */
  get memoryBytes() {
    return this.#module.HEAPU8.length;
  }

  /** Calls an exported function with numbers, then texts; the answer is its text. Used by Session. */
  _call(what, numbers, texts) {
    if (this.#broken) throw new EngineFault('the engine has stopped', { cause: this.#broken });
    const module = this.#module;
    const inside = [];
    let answer = 0;
    try {
      const passed = [...numbers];
      for (const text of texts) {
        if (text === null) {
          passed.push(0, 0);
          continue;
        }
        const bytes = new TextEncoder().encode(text);
        const room = module._zoneproof_space(bytes.length);
        if (room === 0) throw new RangeError('no memory for a text');
        inside.push(room);
        module.HEAPU8.set(bytes, room); // HEAPU8 is asked for anew: memory that grows moves it
        passed.push(room, bytes.length);
      }
      answer = module[`_zoneproof_${what}`](...passed);
      if (answer === 0) throw new RangeError('no memory for an answer');
      const memory = module.HEAPU8;
      return new TextDecoder().decode(memory.subarray(answer, memory.indexOf(0, answer)));
    } catch (fault) {
      this.#broken = fault;
      throw new EngineFault('the engine has stopped', { cause: fault });
    } finally {
      if (!this.#broken) for (const room of [...inside, answer]) module._zoneproof_free(room);
    }
  }
}

class Session {
  #engine;
  #number;
  #revision;

  constructor(engine, opened) {
    this.#engine = engine;
    this.#number = opened.session;
    this.#revision = opened.revision;
  }

  /** What the next patch is to name as its base_revision: { number, sha256 }. */
  get revision() {
    return this.#revision;
  }

  /**
   * Applies a patch, all of it or nothing.
   * @param {object | string} patch { base_revision, operations }, or the text of a whole zoneproof-patch
   * @returns {object} with results.revision and results.undo (a patch), or results.problems
   */
  apply(patch) {
    const text = typeof patch === 'string' ? patch : JSON.stringify({ format: 'zoneproof-patch', version: 1, ...patch });
    const answer = JSON.parse(this.#engine._call('apply', [this.#number], [text]));
    if (answer.results.revision) this.#revision = answer.results.revision;
    return answer;
  }

  /** Asks a question, { command: 'prove', zone: '6' }: a command and its options (docs/guide/engine.md). */
  ask(question) {
    return JSON.parse(this.askText(question));
  }

  /** The same, as the text that the command prints with --json. A question that is a text already is passed as it is. */
  askText(question) {
    return this.#engine._call('ask', [this.#number], [typeof question === 'string' ? question : JSON.stringify(question)]);
  }

  /** The site file in its canonical form, to be saved; the answer itself where the session is closed. */
  text() {
    const answer = JSON.parse(this.#engine._call('site', [this.#number], []));
    return answer.results.text ?? answer;
  }

  /** Ends the session; what was not saved is gone. */
  close() {
    return JSON.parse(this.#engine._call('close', [this.#number], []));
  }
}
