// DXF as it is read here against ezdxf, which wrote the drawings and reads them its own way (make_drawings.py).
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { DxfFault, readDxf, type Drawing, type DrawnLayer } from '../../src/trace/dxf';
import { boxOf, joined, kMostWalls, wallsOf } from '../../src/trace/walls';

const folder = new URL('./drawings/', import.meta.url);
const bytes = (name: string) => new Uint8Array(readFileSync(new URL(name, folder)));
const expected = JSON.parse(readFileSync(new URL('expected.json', folder), 'utf8')) as Record<string, Record<string, { lines: number; length: number; box: number[] }>>;
const lengthOf = ({ lines }: DrawnLayer) => lines.reduce((sum, line) => sum + line.slice(1).reduce((along, at, i) => along + Math.hypot(at.x - line[i]!.x, at.y - line[i]!.y), 0), 0);
const skipped = (drawing: Drawing) => Object.fromEntries(drawing.skipped.map(({ kind, why, count }) => [`${kind} ${why}`, count]));

for (const name of ['flat', 'metres']) {
  test(`${name}.dxf: layers, lines, lengths and places as ezdxf has them`, () => {
    const { layers } = readDxf(bytes(`${name}.dxf`));
    expect(layers.map((layer) => layer.name).sort()).toEqual(Object.keys(expected[name]!).sort());
    for (const layer of layers) {
      const told = expected[name]![layer.name]!;
      expect(layer.lines.length, layer.name).toBe(told.lines);
      // Arcs are straight pieces of 10 degrees here: shorter by 1 - sin(5 deg) / 5 deg = 0.13 %, inside by 1 - cos(5 deg) = 0.4 % of the radius.
      expect(Math.abs(lengthOf(layer) - told.length) / told.length, layer.name).toBeLessThan(0.0015);
      const box = boxOf([layer])!;
      const own = [box.left, box.left + box.width, box.low, box.low + box.height];
      own.forEach((value, i) => expect(Math.abs(value - told.box[i]!), `${layer.name} ${i}`).toBeLessThan(0.004 * 2000));
    }
  });
}

test('what is no wall is counted by its kind, and why', () => {
  const drawing = readDxf(bytes('flat.dxf'));
  expect(drawing.unit_m).toBe(0.001);
  expect(drawing.layers.find((layer) => layer.name === 'OLD')!.shown).toBe(false);
  // Two doors, and two pairs with one door each: the text in the door's block four times.
  expect(skipped(drawing)).toEqual({ 'TEXT kind': 5, 'MTEXT kind': 1, 'HATCH kind': 1, 'SPLINE kind': 1, 'ELLIPSE kind': 1, 'POINT kind': 1, 'INSERT no_block': 1, 'LINE paper': 1 });
});

test('where the file does not tell its unit, nothing is guessed', () => {
  expect(readDxf(bytes('metres.dxf')).unit_m).toBeNull();
});

test('a room of a survey becomes one closed wall at the chosen place', () => {
  const { layers } = readDxf(bytes('metres.dxf'));
  const { operations } = wallsOf({ walls: { aussenwand_1: { name: 'there already' } } }, layers, { level: 'ground', unit_m: 1, left_m: 2, low_m: 3, solid: true });
  expect(operations).toEqual([
    {
      op: 'add', path: '/walls/au_enwand_1',
      value: {
        name: 'Außenwand 1', level: 'ground', bottom_m: 0, top_m: 'none', surface: 'solid',
        path: [{ x_m: 2, y_m: 3 }, { x_m: 14.5, y_m: 3 }, { x_m: 14.5, y_m: 11 }, { x_m: 2, y_m: 11 }, { x_m: 2, y_m: 3 }],
      },
    },
  ]);
});

test('lines that meet end to end become one; where three meet they stay three', () => {
  const at = (x: number, y: number) => ({ x, y });
  const chain = [[at(1, 0), at(2, 0)], [at(1, 0), at(0, 0)], [at(2, 0.0004), at(2, 5)]];
  expect(joined(chain)).toEqual([[at(2, 5), at(2, 0), at(1, 0), at(0, 0)]].map((line) => expect.arrayContaining(line)));
  expect(joined(chain)[0]).toHaveLength(4);
  expect(joined([[at(0, 0), at(1, 0)], [at(1, 0), at(1, 1)], [at(1, 0), at(2, 0)]])).toHaveLength(3);
  const square = joined([[at(0, 0), at(1, 0)], [at(1, 1), at(1, 0)], [at(1, 1), at(0, 1)], [at(0, 1), at(0, 0)]]);
  expect(square).toHaveLength(1);
  expect(square[0]).toHaveLength(5);
});

test('too many walls for one edit are told, not made', () => {
  const lines = Array.from({ length: kMostWalls + 1 }, (_one, i) => [{ x: 0, y: 2 * i }, { x: 1, y: 2 * i }]);
  const { operations, walls } = wallsOf({}, [{ name: 'A', shown: true, lines }], { level: 'g', unit_m: 1, left_m: 0, low_m: 0, solid: true });
  expect([operations.length, walls]).toEqual([0, kMostWalls + 1]);
});

const encode = (text: string) => new TextEncoder().encode(text);
const pairs = (...all: (string | number)[]) => encode(all.join('\n') + '\n');
const kHostile: [string, Uint8Array, string][] = [
  ['a picture', new Uint8Array([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 13]), 'binary'],
  ['a letter', encode('Dear Sir,\nhere is the plan.\n'), 'not_dxf'],
  ['nothing', encode(''), 'not_dxf'],
  ['numbers without a section', encode('0\nLINE\n8\n0\n'), 'not_dxf'],
  ['a file that ends in the middle', bytes('flat.dxf').slice(0, 30_000), 'malformed'],
  ['a line that is no code', pairs(0, 'SECTION', 2, 'ENTITIES', ...Array.from({ length: 30 }, () => [0, 'LINE']).flat(), 'x', 'y'), 'malformed'],
  ['blocks that multiply', pairs(0, 'SECTION', 2, 'BLOCKS', 0, 'BLOCK', 2, 'A', 10, 0, 20, 0, 0, 'LINE', 10, 0, 20, 0, 11, 1, 21, 1, 0, 'ENDBLK', 0, 'ENDSEC', 0, 'SECTION', 2, 'ENTITIES', 0, 'INSERT', 2, 'A', 10, 0, 20, 0, 70, 30000, 71, 30000, 0, 'ENDSEC', 0, 'EOF'), 'too_much'],
];
for (const [what, file, fault] of kHostile) {
  test(`${what} is told as ${fault}`, () => {
    expect(() => readDxf(file)).toThrowError(DxfFault);
    try {
      readDxf(file);
    } catch (thrown) {
      expect((thrown as DxfFault).fault).toBe(fault);
    }
  });
}

test('a block inside itself ends, and is counted', () => {
  const block = pairs(0, 'SECTION', 2, 'BLOCKS', 0, 'BLOCK', 2, 'A', 10, 0, 20, 0, 0, 'INSERT', 2, 'A', 10, 1, 20, 0, 0, 'ENDBLK', 0, 'ENDSEC', 0, 'SECTION', 2, 'ENTITIES', 0, 'INSERT', 2, 'A', 10, 0, 20, 0, 0, 'ENDSEC', 0, 'EOF');
  expect(skipped(readDxf(block))).toEqual({ 'INSERT too_deep': 1 });
});
