// Places that a hand means: on the grid, at a corner that is there, straight along an axis.
import type { At, Line } from './scene';

export const kGrid_m = 0.05;
export const onGrid = (value: number) => Number((Math.round(value / kGrid_m) * kGrid_m).toFixed(3));

/** The corner of a line that is near, else the grid; `from`: a stretch that is nearly straight becomes straight. */
export function snapped(at: At, lines: readonly Line[], near: number, from?: At): At {
  let best: At | null = null;
  let distance = near;
  for (const line of lines) {
    for (const point of line.points) {
      const away = Math.hypot(point.x - at.x, point.y - at.y);
      if (away < distance) {
        distance = away;
        best = point;
      }
    }
  }
  if (best) return { ...best };
  const free = { x: onGrid(at.x), y: onGrid(at.y) };
  if (!from) return free;
  if (Math.abs(at.x - from.x) < near) free.x = from.x;
  if (Math.abs(at.y - from.y) < near) free.y = from.y;
  return free;
}

/** The bearing from one place to another: degrees clockwise from north, 0 to 360, whole. */
export function bearingTo(from: At, to: At): number {
  const degrees = (Math.atan2(to.x - from.x, to.y - from.y) * 180) / Math.PI;
  return (Math.round(degrees) + 360) % 360;
}
export const asPoints = (points: readonly At[]) => points.map(({ x, y }) => ({ x_m: x, y_m: y }));
