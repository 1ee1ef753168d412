// The stream of others: opened anew where the browser gives it up (the HTML standard: no reconnection after an answer that is no stream).
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { Live, type Stream } from '../../src/document/live';

class Line implements Stream {
  readyState = 0;
  heard = new Map<string, (event: MessageEvent<string>) => void>();
  addEventListener(type: string, heard: (event: MessageEvent<string>) => void) { this.heard.set(type, heard); }
  close() { this.readyState = 2; }
  say(type: string, data: unknown = {}) { this.heard.get(type)!({ data: JSON.stringify(data) } as MessageEvent<string>); }
  refused() { this.readyState = 2; this.say('error'); }
}
let lines: Line[];
let revisions: number[];
let live: Live;
beforeEach(() => {
  vi.useFakeTimers();
  [lines, revisions] = [[], []];
  live = new Live(() => { lines.push(new Line()); return lines.at(-1)!; }, { revision: (number) => revisions.push(number), people: () => {}, open: () => {} });
});
afterEach(() => {
  live.close();
  vi.useRealTimers();
});

test('comes back after 401 or 503, later each time, and at once where somebody logs in', () => {
  lines[0]!.refused();
  expect(lines).toHaveLength(1);
  vi.advanceTimersByTime(1000);
  expect(lines).toHaveLength(2);
  lines[1]!.refused();
  vi.advanceTimersByTime(1000);
  expect(lines).toHaveLength(2);
  vi.advanceTimersByTime(1000);
  expect(lines).toHaveLength(3);
  lines[2]!.refused();
  live.again();
  expect(lines).toHaveLength(4);
  lines[3]!.say('hello', { revision: { number: 9 } });
  lines[3]!.say('revision', { number: 10 });
  expect(revisions).toEqual([9, 10]);
});

test('is left to the browser where only the line broke, and stays closed where the site was left', () => {
  lines[0]!.say('error'); // still connecting: the browser tries again itself
  vi.advanceTimersByTime(60_000);
  expect(lines).toHaveLength(1);
  live.again();
  expect(lines).toHaveLength(1);
  live.close();
  live.again();
  vi.advanceTimersByTime(60_000);
  expect(lines).toHaveLength(1);
});
