// JSON values, places in them by pointer (RFC 6901), and when two of them say the same.

export type Json = null | boolean | number | string | Json[] | JsonObject;
export interface JsonObject {
  [key: string]: Json;
}

export const isObject = (value: unknown): value is JsonObject =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** The keys of a pointer: "/zones/z1/name" is zones, z1, name; "" is the whole document. */
export function keysOf(pointer: string): string[] {
  if (pointer === '') return [];
  if (!pointer.startsWith('/')) throw new RangeError(`not a JSON pointer: ${pointer}`);
  return pointer
    .slice(1)
    .split('/')
    .map((key) => key.replaceAll('~1', '/').replaceAll('~0', '~'));
}

export function pointerTo(...keys: (string | number)[]): string {
  return keys.map((key) => '/' + String(key).replaceAll('~', '~0').replaceAll('/', '~1')).join('');
}

/** The value at a place; undefined where there is nothing. */
export function valueAt(document: Json | undefined, pointer: string): Json | undefined {
  let at: Json | undefined = document;
  for (const key of keysOf(pointer)) {
    if (Array.isArray(at)) at = /^(0|[1-9]\d*)$/.test(key) ? at[Number(key)] : undefined;
    else if (isObject(at)) at = Object.hasOwn(at, key) ? at[key] : undefined;
    else return undefined;
  }
  return at;
}

/** Whether a place lies in another, or is the same. */
export const liesIn = (pointer: string, place: string) => pointer === place || pointer.startsWith(place + '/');

/** Whether a value says nothing: in a site file what is absent, null or empty is unknown alike (docs/decisions/011). */
const saysNothing = (value: Json | undefined): boolean =>
  value === undefined || value === null || (isObject(value) && Object.values(value).every(saysNothing));

/** Whether a place holds the same: an entry of which nothing is known is an entry, and not the same as none. */
export const sameAt = (a: Json | undefined, b: Json | undefined) => (a === undefined) === (b === undefined) && sameJson(a, b);

/** Whether two values say the same; the order of keys and unknown members carry no meaning. */
export function sameJson(a: Json | undefined, b: Json | undefined): boolean {
  if (a === b) return true;
  if (Array.isArray(a) && Array.isArray(b)) return a.length === b.length && a.every((one, i) => sameJson(one, b[i]));
  if (isObject(a) && isObject(b)) {
    const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
    for (const key of keys) if (!sameJson(a[key], b[key])) return false;
    return true;
  }
  return saysNothing(a) && saysNothing(b);
}
