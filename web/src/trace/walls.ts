// Lines of a drawing become walls of the plan: scaled, set down, joined where ends meet.
import { pointerTo, type Json } from '../document/json';
import { newIds } from '../document/names';
import type { Operation } from '../document/patch';
import { asPoints } from '../plan/drawing_tools';
import type { At } from '../plan/scene';
import type { DrawnLayer } from './dxf';

export const kMostWalls = 2_000;
export const kMostCorners = 20_000;
const kSame_m = 0.001;

export interface Box {
  left: number;
  low: number;
  width: number;
  height: number;
}
export function boxOf(layers: readonly DrawnLayer[]): Box | null {
  let [left, low, right, high] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { lines } of layers) {
    for (const line of lines) {
      for (const { x, y } of line) {
        [left, low] = [Math.min(left, x), Math.min(low, y)];
        [right, high] = [Math.max(right, x), Math.max(high, y)];
      }
    }
  }
  return left <= right ? { left, low, width: right - left, height: high - low } : null;
}

/** Lines with ends that meet, two and no more, become one; places that are a millimetre apart are one place. */
export function joined(lines: readonly At[][]): At[][] {
  const place = ({ x, y }: At) => `${Math.round(x / kSame_m)} ${Math.round(y / kSame_m)}`;
  const ends = new Map<string, At[][]>();
  const open = new Set<At[]>();
  const done: At[][] = [];
  for (const line of lines) {
    if (place(line[0]!) === place(line.at(-1)!)) {
      done.push(line);
      continue;
    }
    open.add(line);
    for (const end of [line[0]!, line.at(-1)!]) {
      const here = ends.get(place(end));
      if (here) here.push(line);
      else ends.set(place(end), [line]);
    }
  }
  const next = (end: At, of: At[]): At[] | null => {
    const here = ends.get(place(end))!;
    const other = here.length === 2 ? here.find((one) => one !== of) : undefined;
    return other && open.has(other) ? other : null;
  };
  const grown = (begin: At[], first: At[]): At[] => {
    const path = [...begin];
    let last = first;
    for (let more = next(path.at(-1)!, last); more; more = next(path.at(-1)!, last)) {
      open.delete(more);
      const along = place(more[0]!) === place(path.at(-1)!) ? more : [...more].reverse();
      path.push(...along.slice(1));
      last = more;
    }
    return path;
  };
  for (const line of lines) {
    if (!open.delete(line)) continue;
    const forward = grown(line, line);
    const closed = place(forward[0]!) === place(forward.at(-1)!);
    done.push(closed ? forward : grown(forward.reverse(), line));
  }
  return done;
}

export interface Laid {
  level: string;
  unit_m: number; // metres in a unit of the drawing
  left_m: number; // where the lower left corner of what is taken comes to lie
  low_m: number;
  solid: boolean; // from floor to ceiling; else what they are stays unknown
}
/** The walls as an edit, or how many walls and corners they would be where that is too much for one. */
export function wallsOf(document: Json, layers: readonly DrawnLayer[], laid: Laid): { operations: Operation[]; walls: number; corners: number } {
  const box = boxOf(layers);
  if (!box) return { operations: [], walls: 0, corners: 0 };
  const round = (value: number) => Number(value.toFixed(4));
  const onPlan = ({ x, y }: At): At => ({ x: round(laid.left_m + (x - box.left) * laid.unit_m), y: round(laid.low_m + (y - box.low) * laid.unit_m) });
  const paths: { name: string; path: At[] }[] = [];
  for (const layer of layers) {
    const lines = layer.lines.map((line) => distinct(line.map(onPlan))).filter((line) => line.length >= 2);
    joined(lines).forEach((path, i) => paths.push({ name: `${layer.name} ${i + 1}`.slice(0, 200), path }));
  }
  const corners = paths.reduce((sum, { path }) => sum + path.length, 0);
  if (paths.length > kMostWalls || corners > kMostCorners) return { operations: [], walls: paths.length, corners };
  const fresh = newIds(document);
  const standing: { [key: string]: Json } = laid.solid ? { bottom_m: 0, top_m: 'none', surface: 'solid' } : {};
  const operations = paths.map(({ name, path }): Operation => ({ op: 'add', path: pointerTo('walls', fresh(name)), value: { name, level: laid.level, path: asPoints(path), ...standing } }));
  return { operations, walls: paths.length, corners };
}
const distinct = (line: At[]) => line.filter((at, i) => i === 0 || at.x !== line[i - 1]!.x || at.y !== line[i - 1]!.y);
