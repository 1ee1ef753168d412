import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { bearingTo, snapped } from '../../src/plan/drawing_tools';
import { openingsOf, sceneOf, zoneOfDetector } from '../../src/plan/scene';
import { blindIn, merged, type Sight } from '../../src/plan/seen';

const kiln = JSON.parse(readFileSync(new URL('../../../data/demo/kiln-yard.site.json', import.meta.url), 'utf8'));

test('the demo site is on the plan with everything that has a place', () => {
  const scene = sceneOf(kiln, 'ground');
  expect(scene.walls).toHaveLength(Object.keys(kiln.walls).length);
  expect(scene.openings).toHaveLength(Object.keys(kiln.openings).length);
  expect(scene.devices.filter((one) => one.collection === 'cameras')).toHaveLength(5);
  expect(sceneOf(kiln, 'attic').walls).toEqual([]);
});

test('an opening lies where the tape says: along its stretch, from its beginning', () => {
  const wall = { id: 'w', collection: 'walls', name: 'W', key: 'path', kind: '', points: [{ x: 0, y: 0 }, { x: 4, y: 0 }, { x: 4, y: 3 }] };
  const site = { openings: { o: { wall: 'w', stretch: 2, along_m: 1, width_m: 0.75, kind: 'door' } } };
  expect(openingsOf(site, [wall])).toMatchObject([{ from: { x: 4, y: 1 }, to: { x: 4, y: 1.75 } }]);
});

test('bearings are clockwise from north', () => {
  const from = { x: 1, y: 1 };
  expect([[1, 2], [2, 1], [1, 0], [0, 1], [2, 2]].map(([x, y]) => bearingTo(from, { x: x!, y: y! }))).toEqual([0, 90, 180, 270, 45]);
});

test('a corner that is near is taken exactly, else the grid, and nearly straight becomes straight', () => {
  const lines = sceneOf(kiln, 'ground').walls;
  const corner = lines[0]!.points[0]!;
  expect(snapped({ x: corner.x + 0.07, y: corner.y - 0.06 }, lines, 0.2)).toEqual(corner);
  expect(snapped({ x: 3.333, y: 2.777 }, [], 0.2)).toEqual({ x: 3.35, y: 2.8 });
  expect(snapped({ x: 3.33, y: 2.02 }, [], 0.2, { x: 1, y: 2 })).toEqual({ x: 3.35, y: 2 });
});

test('a detector is asked about by the zone whose loop its contact is on', () => {
  expect(zoneOfDetector(kiln, 'd_store')).toBe('z7');
  expect(zoneOfDetector(kiln, 'nobody')).toBeNull();
});

test('blind patches are numbered through all zones in their order, and a smaller answer replaces only its own zones', () => {
  const zone = (id: string, number: number, patches: number) =>
    ({ zone: id, number, name: id, witnessed: null, areas: [], cures: [], patches: Array.from({ length: patches }, () => ({ level: 'ground', area_m2: 1, outlines: [], x_m: 0, y_m: 0, causes: [] })) }) as Sight['zones'][number];
  const whole = [zone('b', 2, 1), zone('a', 1, 2)];
  expect(blindIn(whole).map((one) => [one.number, one.zone])).toEqual([[1, 'a'], [2, 'a'], [3, 'b']]);
  expect(blindIn(merged(whole, [zone('a', 1, 0)])).map((one) => [one.number, one.zone])).toEqual([[1, 'b']]);
});
