// Work at the server is followed to its end, and no further; another site's work under the same number is not ours.
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { Refused, Unreachable, type Work } from '../../src/api/client';
import { follow, type Seen } from '../../src/handover/following';

const work = (state: Work['state'], site = 's'): Work => ({ number: 1, site, state, done: null, says: '', problems: [], files: [] });
let answers: (Work | Error)[];
let seen: Seen[];
const client = {
  work: async () => {
    const next = answers.shift();
    if (next === undefined) throw new Error('asked after the end');
    if (next instanceof Error) throw next;
    return next;
  },
};
async function followed(...all: (Work | Error)[]) {
  [answers, seen] = [all, []];
  const end = follow(client, 1, 's', new AbortController().signal, (one) => seen.push(one));
  await vi.advanceTimersByTimeAsync(120_000);
  await end;
  expect(answers).toEqual([]);
  return seen.map((one) => one.kind);
}
beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

test('to its end, also over a time without a network', async () => {
  expect(await followed(work('running'), new Unreachable(), new Unreachable(), work('running'), work('done'))).toEqual(['work', 'away', 'away', 'work', 'work']);
});
test('no further than the server knows of it, or lets one look', async () => {
  expect(await followed(work('running'), new Refused(404, []))).toEqual(['work', 'gone']);
  expect(await followed(new Refused(401, [{ code: 'c', text: 'Log in.' }]))).toEqual(['refused']);
});
test('work of another site under the number is not told as this one', async () => {
  expect(await followed(new Unreachable(), work('done', 'other'))).toEqual(['away', 'gone']);
});
