// Changes of a site as values: RFC 6902 with add, remove, replace, move and test (src/site/patch.hpp). Documents are
// never changed in place: what an operation touches is copied, everything else is shared with the document before.
import { isObject, keysOf, liesIn, pointerTo, sameAt, sameJson, valueAt, type Json, type JsonObject } from './json';

export type Operation =
  | { op: 'add' | 'replace' | 'test'; path: string; value: Json }
  | { op: 'remove'; path: string }
  | { op: 'move'; from: string; path: string };

export interface Revision {
  number: number;
  sha256: string;
}

export interface Patch {
  format: 'zoneproof-patch';
  version: 1;
  base_revision: Revision;
  operations: Operation[];
}

/** A patch does not fit the document: which operation, where, why. */
export class PatchFault extends Error {
  constructor(
    readonly index: number,
    readonly pointer: string,
    readonly reason: 'nothing_there' | 'no_place' | 'other_value' | 'into_itself',
  ) {
    super(`operation ${index} at ${pointer}: ${reason}`);
  }
}

/** One place that an edit changes: what was there, what it makes of it; undefined where there is nothing. */
export interface Change {
  place: string;
  before: Json | undefined;
  after: Json | undefined;
}

/** The document after all operations. Throws PatchFault; the document that came in is as it was in any case. */
export function applyOperations(document: Json, operations: readonly Operation[]): Json {
  return operations.reduce((now, operation, index) => applyOne(now, operation, index), document);
}

function applyOne(document: Json, operation: Operation, index: number): Json {
  const { op, path } = operation;
  const fault = (reason: PatchFault['reason'], pointer = path) => new PatchFault(index, pointer, reason);
  if (op === 'move') {
    if (liesIn(path, operation.from) && path !== operation.from) throw fault('into_itself');
    const value = valueAt(document, operation.from);
    if (value === undefined) throw fault('nothing_there', operation.from);
    return put(take(document, keysOf(operation.from)), keysOf(path), value, fault);
  }
  if (op === 'add') return put(document, keysOf(path), operation.value, fault);
  const there = valueAt(document, path);
  if (op === 'test') {
    if (!sameJson(there, operation.value)) throw fault('other_value');
    return document;
  }
  if (there === undefined) throw fault('nothing_there');
  return op === 'remove' ? take(document, keysOf(path)) : replace(document, keysOf(path), operation.value);
}

type Faults = (reason: PatchFault['reason']) => PatchFault;

/** `add`. Objects on the way that are not there are made: for a patch every nested object of a site is there. */
function put(at: Json | undefined, keys: string[], value: Json, fault: Faults): Json {
  const [key, ...rest] = keys;
  if (key === undefined) return value;
  if (Array.isArray(at)) {
    const place = key === '-' ? at.length : Number(key);
    if (!/^(0|[1-9]\d*|-)$/.test(key) || place > at.length) throw fault('no_place');
    if (rest.length === 0) return [...at.slice(0, place), value, ...at.slice(place)];
    if (place === at.length) throw fault('no_place');
    return at.map((one, i) => (i === place ? put(one, rest, value, fault) : one));
  }
  if (at !== undefined && at !== null && !isObject(at)) throw fault('no_place');
  const there: JsonObject = at ?? {};
  const inside = Object.hasOwn(there, key) ? there[key] : undefined;
  return { ...there, [key]: rest.length === 0 ? value : put(inside, rest, value, fault) };
}

function take(at: Json, keys: string[]): Json {
  const [key, ...rest] = keys;
  if (key === undefined) return null;
  if (Array.isArray(at)) {
    const place = Number(key);
    return rest.length === 0 ? at.filter((_, i) => i !== place) : at.map((one, i) => (i === place ? take(one, rest) : one));
  }
  const there = at as JsonObject;
  if (rest.length > 0) return { ...there, [key]: take(there[key]!, rest) };
  const { [key]: _gone, ...left } = there;
  return left;
}

function replace(at: Json, keys: string[], value: Json): Json {
  const [key, ...rest] = keys;
  if (key === undefined) return value;
  if (Array.isArray(at)) return at.map((one, i) => (i === Number(key) ? replace(one, rest, value) : one));
  const there = at as JsonObject;
  return { ...there, [key]: replace(there[key]!, rest, value) };
}

/** The part of a pointer before the first list: an entry of a list has no name of its own, so the list is the place. */
export function placeOf(document: Json, pointer: string): string {
  let at: Json | undefined = document;
  const keys = keysOf(pointer);
  for (let i = 0; i < keys.length; ++i) {
    if (Array.isArray(at)) return pointerTo(...keys.slice(0, i));
    at = isObject(at) ? at[keys[i]!] : undefined;
  }
  return pointer;
}

/** The places that operations touch, none of which lies in another. */
export function placesOf(document: Json, operations: readonly Operation[]): string[] {
  const all = new Set<string>();
  for (const operation of operations) {
    if (operation.op === 'test') continue;
    all.add(placeOf(document, operation.path));
    if (operation.op === 'move') all.add(placeOf(document, operation.from));
  }
  const places = [...all];
  return places.filter((place) => !places.some((other) => other !== place && liesIn(place, other))).sort();
}

/** What operations do, place by place; places that end as they began are left out. */
export function changesOf(before: Json, after: Json, operations: readonly Operation[]): Change[] {
  return placesOf(before, operations)
    .map((place) => ({ place, before: valueAt(before, place), after: valueAt(after, place) }))
    .filter((change) => !sameAt(change.before, change.after));
}

/** The operation that makes a place hold a value; undefined: nothing. None where nothing is to be done. */
export function setting(document: Json, place: string, value: Json | undefined): Operation[] {
  if (value !== undefined) return [{ op: 'add', path: place, value }];
  return valueAt(document, place) === undefined ? [] : [{ op: 'remove', path: place }];
}

/** Operations that turn one document into another. Lists that differ are replaced whole. */
export function difference(from: Json, to: Json, at = ''): Operation[] {
  if (sameJson(from, to)) return [];
  if (!isObject(from) || !isObject(to)) return [{ op: 'replace', path: at, value: to }];
  const operations: Operation[] = [];
  for (const key of [...new Set([...Object.keys(from), ...Object.keys(to)])].sort()) {
    const path = at + pointerTo(key);
    const was = from[key];
    const is = to[key];
    if (sameJson(was, is)) continue;
    if (is === undefined) operations.push({ op: 'remove', path });
    else if (was === undefined) operations.push({ op: 'add', path, value: is });
    else operations.push(...difference(was, is, path));
  }
  return operations;
}
