// What people call the things of a site.
import { isObject, keysOf, pointerTo, type Json, type JsonObject } from './json';

/** Collections whose entries are things on the site; ids are unique among all of them. */
export function collectionOf(document: Json, id: string): string | null {
  if (!isObject(document)) return null;
  for (const [key, value] of Object.entries(document)) {
    if (key === 'parts' || key === 'rulebooks' || !isObject(value)) continue;
    if (Object.hasOwn(value, id) && isObject(value[id])) return key;
  }
  return null;
}

export function entriesOf(document: Json, collection: string): [string, JsonObject][] {
  const found = isObject(document) ? document[collection] : null;
  return isObject(found) ? (Object.entries(found).filter(([, entry]) => isObject(entry)) as [string, JsonObject][]) : [];
}

/** Where a thing stands in the file; null where there is no such id. */
export function pointerOf(document: Json, id: string): string | null {
  const collection = collectionOf(document, id);
  return collection === null ? null : pointerTo(collection, id);
}

/** "7 Store" of a zone, "Store camera", else the id. */
export function nameOfEntry(id: string, entry: Json | undefined): string {
  if (!isObject(entry)) return id;
  const name = typeof entry.name === 'string' ? entry.name : '';
  const number = typeof entry.number === 'number' ? String(entry.number) : '';
  return [number, name].filter(Boolean).join(' ') || id;
}
export function nameOf(document: Json, id: string): string {
  const collection = collectionOf(document, id);
  return collection === null ? id : nameIn(document, id, ((document as JsonObject)[collection] as JsonObject)[id]);
}

/** What a thing without a name of its own belongs to: a trigger to its zone, an address to its device. */
const kOwners = ['zone', 'device', 'camera', 'supply', 'unit'];
function nameIn(document: Json, id: string, entry: Json | undefined): string {
  const own = nameOfEntry(id, entry);
  if (own !== id || !isObject(entry)) return own;
  const owner = kOwners.map((key) => entry[key]).find((one): one is string => typeof one === 'string' && one !== 'none' && one !== id);
  const collection = owner === undefined ? null : collectionOf(document, owner);
  if (owner === undefined || collection === null) return id;
  return `${nameOfEntry(owner, ((document as JsonObject)[collection] as JsonObject)[owner])} (${id})`;
}

/** The thing that a place belongs to, as people call it, and the keys inside of it. */
export function ownerOf(document: Json, pointer: string): { id: string; name: string; rest: string[] } {
  const [collection = '', id = '', ...rest] = keysOf(pointer);
  const inside = isObject(document) ? document[collection] : undefined;
  return { id, name: id === '' ? collection : nameIn(document, id, isObject(inside) ? inside[id] : undefined), rest };
}

/** An id for a new thing, from its name: as the program makes them, and taken by nothing in the site. */
export function newIdFor(document: Json, wanted: string): string {
  return newIds(document)(wanted);
}
/** Ids for many new things: what it has given out is taken too. */
export function newIds(document: Json): (wanted: string) => string {
  const given = new Set<string>();
  const counts = new Map<string, number>();
  const taken = (id: string) => id === 'none' || given.has(id) || collectionOf(document, id) !== null;
  return (wanted) => {
    const plain = wanted.normalize('NFKD').toLowerCase().replace(/[^a-z0-9]+/g, '_').replace(/^[^a-z]+|_+$/g, '').slice(0, 34) || 'thing';
    let id = plain;
    for (let count = counts.get(plain) ?? 2; taken(id); ++count) {
      id = `${plain}_${count}`;
      counts.set(plain, count + 1);
    }
    given.add(id);
    return id;
  };
}
