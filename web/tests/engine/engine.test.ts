// The engine's worker is asked one question at a time, and what nobody waits for any more is never begun.
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { LocalEngine } from '../../src/engine/engine';
import type { AskedOfEngine } from '../../src/engine/messages';

let begun: AskedOfEngine[];
let answer: (n: number) => void;
class Double {
  #heard: (event: { data: unknown }) => void = () => {};
  constructor() {
    answer = (n) => this.#heard({ data: { n, kind: 'answer', answer: { results: { n } } } });
  }
  addEventListener(type: string, heard: (event: { data: unknown }) => void) {
    if (type === 'message') this.#heard = heard;
  }
  postMessage(asked: AskedOfEngine) {
    if (asked.kind === 'load') queueMicrotask(() => this.#heard({ data: { n: asked.n, kind: 'ready' } }));
    else begun.push(asked);
  }
}
beforeEach(() => {
  begun = [];
  vi.stubGlobal('Worker', Double);
});
afterEach(() => vi.unstubAllGlobals());

test('of twenty states under a held key the first and the last are computed', async () => {
  const engine = new LocalEngine('http://here');
  const answers: Promise<unknown>[] = [];
  let stop = new AbortController();
  for (let i = 0; i < 20; ++i) {
    stop.abort();
    stop = new AbortController();
    answers.push(engine.ask({ state: i }, { command: 'prove' }, stop.signal));
    await engine.there();
    await Promise.resolve();
  }
  expect(begun).toHaveLength(1);
  answer(begun[0]!.n);
  await vi.waitFor(() => expect(begun).toHaveLength(2));
  expect(begun[1]).toMatchObject({ document: { state: 19 } });
  answer(begun[1]!.n);
  const said = await Promise.all(answers);
  expect(said.slice(1, 19)).toEqual(Array(18).fill(null));
  expect(said[19]).toMatchObject({ results: { n: begun[1]!.n } });
});
