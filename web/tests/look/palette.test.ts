// One palette: the page's inks are those of the program's drawings (src/drawing/colour.cpp), and verdicts look alike.
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { kMarks } from '../../src/look/links';

const text = (path: string) => readFileSync(new URL(path, import.meta.url), 'utf8');
const css = text('../../src/look/tokens.css');
const inks = ['paper', 'wash', 'faint', 'line', 'quiet', 'text', 'proven', 'thin', 'broken', 'unanswered'];

function drawn(ink: string): { light: string; dark: string } {
  const row = new RegExp(`Ink::${ink}, "${ink}", ([^\\n]+)\\}`).exec(text('../../../src/drawing/colour.cpp'))![1]!.replace('kWhite', '{0xFF, 0xFF, 0xFF}');
  const colours = [...row.matchAll(/\{0x(\w\w), 0x(\w\w), 0x(\w\w)\}/g)].map(([, r, g, b]) => `#${r}${g}${b}`.toLowerCase());
  return { light: colours[0]!, dark: colours[1]! };
}
function token(ink: string, from: string): string {
  return new RegExp(`--${ink}: (#\\w{6});`).exec(css.slice(css.indexOf(from)))![1]!;
}

test.each(inks)('ink %s is that of the drawings', (ink) => {
  expect(token(ink, ':root {')).toBe(drawn(ink).light);
  expect(token(ink, ":root[data-ink='dark']")).toBe(drawn(ink).dark);
});

test('marks have the measures of src/drawing/verdict_mark.cpp', () => {
  const source = text('../../../src/drawing/verdict_mark.cpp');
  const measure = (name: string) => Number(new RegExp(`${name} = ([\\d.]+);`).exec(source)![1]);
  const [radius, straight, apart, gap] = ['kRadius', 'kStraight', 'kApart', 'kBreak'].map(measure) as [number, number, number, number];
  const width = (between: number) => 1 + 2 * radius + 2 * straight + between;
  expect(kMarks.proven.width).toBeCloseTo(width(apart * radius), 9);
  expect(kMarks.thin.width).toBeCloseTo(width(apart * radius), 9);
  expect(kMarks.broken.width).toBeCloseTo(width(2 * radius + 1 + gap), 9);
  expect(kMarks.thin.paths[1]!.width).toBe(measure('kHair'));
  expect(kMarks.unanswered.paths[1]!.dots).toBeDefined();
});
