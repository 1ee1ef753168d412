// The picture that the plan of a level is traced over: where it lies, and how a measured length brings it to scale.
import { isObject, valueAt, type Json, type JsonObject } from '../document/json';
import { nominal } from '../forms/entry';
import type { At } from '../plan/scene';

export interface Underlay {
  sha256: string;
  name: string;
  width_m: number;
  height_m: number;
  px_per_m: number;
  measured: boolean; // to scale; else it is shown as wide as kUnmeasured_m
  x: number; // lower left corner
  y: number;
  bearing: number;
  shown_pct: number;
}
const kUnmeasured_m = 20;
const kShown_pct = 60;

export function underlayOf(document: Json, level: string): Underlay | null {
  const picture = valueAt(document, `/levels/${level}/picture`);
  if (!isObject(picture) || typeof picture.sha256 !== 'string') return null;
  const [width, height] = [nominal(picture.width_px), nominal(picture.height_px)];
  if (!width || !height) return null; // nothing is known of its shape
  const scale = nominal(picture.px_per_m);
  const px_per_m = scale ?? width / kUnmeasured_m;
  return {
    sha256: picture.sha256, name: typeof picture.name === 'string' ? picture.name : '', width_m: width / px_per_m, height_m: height / px_per_m, px_per_m, measured: scale !== null,
    x: nominal(picture.x_m) ?? 0, y: nominal(picture.y_m) ?? 0, bearing: nominal(picture.bearing_deg) ?? 0, shown_pct: nominal(picture.shown_pct) ?? kShown_pct,
  };
}

/** Clockwise, as bearings go. */
const turned = ({ x, y }: At, degrees: number): At => {
  const [cos, sin] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  return { x: x * cos + y * sin, y: y * cos - x * sin };
};
export function cornersOf({ x, y, width_m, height_m, bearing }: Underlay): At[] {
  return [{ x: 0, y: 0 }, { x: width_m, y: 0 }, { x: width_m, y: height_m }, { x: 0, y: height_m }].map((at) => turned(at, bearing)).map((at) => ({ x: x + at.x, y: y + at.y }));
}

/**
 * The members that change when the stretch from a to b, as it lies on the plan now, is `length_m` in the building. The place of
 * `a` stays.
 * @param straight also turned so that the stretch runs along the nearest axis
 */
export function measuredBy(underlay: Underlay, a: At, b: At, length_m: number, straight: boolean): JsonObject {
  const factor = length_m / Math.hypot(b.x - a.x, b.y - a.y);
  const along = (Math.atan2(b.x - a.x, b.y - a.y) * 180) / Math.PI;
  const turn = straight ? Math.round(along / 90) * 90 - along : 0;
  const corner = turned({ x: (underlay.x - a.x) * factor, y: (underlay.y - a.y) * factor }, turn);
  const round = (value: number, digits: number) => Number(value.toFixed(digits));
  return { px_per_m: Number((underlay.px_per_m / factor).toPrecision(6)), x_m: round(a.x + corner.x, 4), y_m: round(a.y + corner.y, 4), bearing_deg: round(underlay.bearing + turn, 3) };
}
