import { expect, test } from 'vitest';
import { labelled, type Named } from '../../src/plan/labels';

const field = (count: number, seed: number): Named[] => {
  let state = seed;
  const next = (below: number) => (state = (state * 48271) % 2147483647) % below;
  return Array.from({ length: count }, (_, i) => ({ id: `d${i}`, name: 'Detector '.slice(0, 3 + next(6)) + i, x: next(800), y: next(500) }));
};

test('no name lies over another name or over a symbol, on 50 random plans', () => {
  for (let seed = 1; seed <= 50; ++seed) {
    const devices = field(40, seed);
    const at = new Map(devices.map((one) => [one.id, one]));
    const labels = labelled(devices);
    expect(labels.length).toBeGreaterThan(20);
    const boxes = labels.map((label) => {
      const { x, y } = at.get(label.id)!;
      return { left: x + label.dx, right: x + label.dx + label.name.length * 6.7, top: y + label.dy - 10, low: y + label.dy + 4 };
    });
    boxes.forEach((a, i) => {
      for (const b of boxes.slice(i + 1)) expect(a.left < b.right && b.left < a.right && a.top < b.low && b.top < a.low).toBe(false);
      for (const { x, y } of devices) expect(x - 9 < a.right && a.left < x + 9 && y - 9 < a.low && a.top < y + 9).toBe(false);
    });
  }
});

test('no name leaves what is seen', () => {
  const seen = { left: 0, right: 800, top: 0, low: 500 };
  const devices = field(40, 3);
  for (const label of labelled(devices, [], seen)) {
    const { x } = devices.find((one) => one.id === label.id)!;
    expect(x + label.dx).toBeGreaterThanOrEqual(0);
    expect(x + label.dx + label.name.length * 6.7).toBeLessThanOrEqual(800);
  }
});
