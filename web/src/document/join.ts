// Several people at one site: what others have changed meanwhile, and one's own edits on top of it. Edits that touch
// other places are moved on top as they are. Where both touch one place, the edit is held with both values until a person
// chooses; whatever was built on a held edit is held with it. No edit is dropped here, except one that says what is
// there already.
import { liesIn, sameAt, sameJson, valueAt, type Json } from './json';
import { applyOperations, changesOf, difference, PatchFault, placesOf, setting, type Change, type Operation } from './patch';

/** An edit that the server has not taken yet. */
export interface Edit {
  id: string; // made here; the same id sent twice is one edit (docs/decisions/020)
  site: string;
  order: number; // in which edits were made on this device
  made: string; // when, ISO 8601
  why: string;
  person?: string | null; // who made it; null: nobody was logged in. Sent under this name alone (open_site.ts)
  operations: Operation[];
  state: 'waiting' | 'held' | 'refused' | 'set_aside'; // set aside: told of edits of another person, never kept so
  changes: Change[]; // what it does, place by place
  disputed?: string[]; // held: the places at which somebody else has said something else
  problems?: Problem[]; // refused, or waiting because the server cannot take it now: what the server says
}

/** A message of the house, as the server and the engine give it. */
export interface Problem {
  code: string;
  text: string;
  remedy?: string;
  pointer?: string;
  severity?: string;
}

export interface Joined {
  document: Json; // theirs with all edits that are not held
  edits: Edit[];
  changed: string[]; // places that others have changed
}

const touch = (a: string, b: string) => liesIn(a, b) || liesIn(b, a);
const shorter = (a: string, b: string) => (a.length <= b.length ? a : b);

/**
 * Moves edits from one state of the site to a later one.
 * @param base what the edits were made on, in their order
 * @param theirs what the server has now
 * @param madeOn `elsewhere`: the edits come from the disk, and the base there may have been moved on meanwhile by another
 *   tab. Then each edit is held against what it says was there before it; where that is gone, somebody has said something else.
 */
export function join(base: Json, theirs: Json, edits: readonly Edit[], madeOn: 'base' | 'elsewhere' = 'base'): Joined {
  const changed = placesOf(base, difference(base, theirs));
  const kept: Edit[] = [];
  let mine = base; // one's own line: base with the edits so far
  let document = theirs; // the joined line
  for (const edit of edits) {
    if (edit.state !== 'waiting') {
      kept.push(edit);
      continue;
    }
    const before = mine;
    if (madeOn === 'elsewhere' && isThere(before, edit.changes)) continue;
    const stray = madeOn === 'elsewhere' ? strayPlaces(before, edit) : [];
    const after = applied(mine, edit.operations);
    if (after === null) {
      kept.push({ ...edit, state: 'held', disputed: edit.changes.map((change) => change.place) });
      continue;
    }
    mine = after;
    const changes = changesOf(before, mine, edit.operations);
    const others = [...changed, ...kept.filter((one) => one.state === 'held').flatMap((one) => one.disputed ?? [])];
    const disputed = innermostLeftOut([...stray, ...disputedPlaces(changes, others, mine, document)]);
    const rest = disputed.length > 0 ? null : moved(document, changes, edit.operations);
    if (rest === null) {
      kept.push(held(edit, before, mine, changes, disputed, stray));
    } else if (rest.operations.length > 0) {
      // What was there before it is told anew: it stands on another state now, and is held against that after the next start.
      kept.push({ ...edit, changes: changesOf(document, rest.document, rest.operations) });
      document = rest.document;
    }
  }
  return { document, edits: kept, changed };
}

/** Where both sides speak of one place and say different things. */
function disputedPlaces(changes: Change[], others: string[], mine: Json, theirs: Json): string[] {
  const places = new Set<string>();
  for (const { place } of changes) {
    for (const other of others) {
      if (!touch(place, other)) continue;
      const common = shorter(place, other);
      if (!sameJson(valueAt(mine, common), valueAt(theirs, common))) places.add(common);
    }
  }
  return [...places];
}

/** Places without those that lie in another of them. */
function innermostLeftOut(places: readonly string[]): string[] {
  const all = [...new Set(places)];
  return all.filter((place) => !all.some((other) => other !== place && liesIn(place, other))).sort();
}

/** Whether an edit says what is there already: another tab has brought it to the server. */
const isThere = (document: Json, changes: readonly Change[]) =>
  changes.length > 0 && changes.every((change) => sameAt(valueAt(document, change.place), change.after));

/** Where the document holds neither what an edit found there nor what it made of it. */
function strayPlaces(document: Json, edit: Edit): string[] {
  return edit.changes
    .filter(({ place, before, after }) => {
      const there = valueAt(document, place);
      return !sameAt(there, before) && !sameAt(there, after);
    })
    .map((change) => change.place);
}

/** The document after operations; null where they do not fit it: what they were built on is held or refused. */
function applied(document: Json, operations: Operation[]): Json | null {
  try {
    return applyOperations(document, operations);
  } catch (fault) {
    if (fault instanceof PatchFault) return null;
    throw fault;
  }
}

/** The edit on the joined line; no operations are left where it says what is there already, null where it does not fit. */
function moved(document: Json, changes: Change[], operations: Operation[]): { document: Json; operations: Operation[] } | null {
  if (changes.length === 0 || isThere(document, changes)) return { document, operations: [] };
  const after = applied(document, operations);
  return after === null ? null : { document: after, operations };
}

function held(edit: Edit, before: Json, mine: Json, changes: Change[], disputed: string[], stray: string[]): Edit {
  const places = disputed.length > 0 ? disputed : changes.map((change) => change.place);
  const rest = changes.filter((change) => !places.some((place) => liesIn(change.place, place)));
  const made = (place: string) => edit.changes.find((change) => change.place === place && stray.includes(place));
  const told = places.map((place) => made(place) ?? { place, before: valueAt(before, place), after: valueAt(mine, place) });
  return { ...edit, state: 'held', changes: [...told, ...rest], disputed: places };
}

/**
 * What is left of a held edit once a person has chosen.
 * @param chosen for each disputed place whose value shall stand
 * @returns operations on the document as it is; empty where nothing is left to be done
 */
export function decided(document: Json, edit: Edit, chosen: ReadonlyMap<string, 'mine' | 'theirs'>): Operation[] {
  const disputed = new Set(edit.disputed ?? []);
  return edit.changes
    .filter((change) => !disputed.has(change.place) || chosen.get(change.place) === 'mine')
    .filter((change) => !sameAt(valueAt(document, change.place), change.after))
    .flatMap((change) => setting(document, change.place, change.after));
}
