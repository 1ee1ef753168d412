import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { Drag } from '../../src/plan/hand.svelte';
import { KeySteps } from '../../src/plan/key_steps';

let shown: (Drag | null)[];
let done: Drag[];
let steps: KeySteps;
const at = (x: number, id = 'c1'): Drag => ({ kind: 'device', id, at: { x, y: 0 } });
beforeEach(() => {
  vi.useFakeTimers();
  [shown, done] = [[], []];
  steps = new KeySteps((drag) => shown.push(drag), (drag) => done.push(drag));
});
afterEach(() => void vi.useRealTimers());

test('a held key is shown step by step and is one edit when it is let go', () => {
  for (let i = 1; i <= 30; ++i) {
    steps.step(at(i / 10));
    vi.advanceTimersByTime(30); // a key repeats about so fast
  }
  expect(shown).toHaveLength(30);
  expect(done).toEqual([]);
  steps.end();
  steps.end();
  expect(done).toEqual([at(3)]);
  expect(shown.at(-1)).toBeNull();
});
test('it is one edit also where the key is never seen to be let go, and another thing is another edit', () => {
  steps.step(at(1));
  steps.step(at(2, 'c2'));
  expect(done).toEqual([at(1)]);
  vi.advanceTimersByTime(5000);
  expect(done).toEqual([at(1), at(2, 'c2')]);
});
