// Undo and redo of one's own edits. An entry holds what an edit did, place by place; to undo it is an edit of its own,
// which goes the way of all edits. Where a place no longer holds what the edit made of it, somebody has changed it
// since: then the person is asked. What did not come to stand - refused, held, given up - is not offered.
import { sameJson, valueAt, type Json } from './json';
import { setting, type Change, type Operation } from './patch';

export interface Done {
  why: string;
  changes: Change[];
}

interface Entry extends Done {
  at: number; // in which order edits were made: an entry that comes back goes to its place
  edit: string | null; // the id of the edit that made it
  moved: string | null; // the id of the edit that undid or redid it last
}

export interface StepBack {
  why: string;
  operations: Operation[];
  overrides: Change[]; // places that hold something else than the edit had left there: `after` is what they hold now
}

const kDeepest = 500;

export class History {
  #done: Entry[] = [];
  #undone: Entry[] = [];
  #count = 0;

  get canUndo(): Done | undefined {
    return this.#done.at(-1);
  }
  get canRedo(): Done | undefined {
    return this.#undone.at(-1);
  }

  /** An edit was made; what had been undone cannot be done again. */
  record(done: Done, edit: string | null = null): void {
    if (done.changes.length === 0) return;
    this.#done.push({ ...done, at: this.#count++, edit, moved: null });
    if (this.#done.length > kDeepest) this.#done.shift();
    this.#undone = [];
  }

  /** How the last edit would be undone; nothing happens before undid(). */
  undo(document: Json): StepBack | null {
    const last = this.#done.at(-1);
    return last ? step(document, last.why, last.changes.map(turned)) : null;
  }
  redo(document: Json): StepBack | null {
    const last = this.#undone.at(-1);
    return last ? step(document, last.why, last.changes) : null;
  }
  /** The last edit is undone, by an edit with this id; null where it was undone already and no edit was needed. */
  undid(by: string | null = null): void {
    const last = this.#done.pop();
    if (last) this.#undone.push({ ...last, moved: by });
  }
  redid(by: string | null = null): void {
    const last = this.#undone.pop();
    if (last) this.#done.push({ ...last, moved: by });
  }
  /** The next step of undo or redo is not to be had, and the one before it is offered. */
  passOver(which: 'undo' | 'redo'): void {
    if (which === 'undo') this.#done.pop();
    else this.#undone.pop();
  }

  /** An edit does not stand: what it did is not offered any more; what it undid or redid is as it was before. */
  drop(edit: string): void {
    const others = (one: Entry) => one.edit !== edit;
    this.#done = this.#done.filter(others);
    this.#undone = this.#undone.filter(others);
    const back = (one: Entry): Entry => ({ ...one, moved: null });
    const undone = this.#undone.filter((one) => one.moved === edit).map(back);
    const redone = this.#done.filter((one) => one.moved === edit).map(back);
    if (undone.length + redone.length === 0) return;
    this.#done = [...this.#done.filter((one) => one.moved !== edit), ...undone].sort((a, b) => a.at - b.at);
    this.#undone = [...this.#undone.filter((one) => one.moved !== edit), ...redone].sort((a, b) => b.at - a.at);
  }
}

const turned = ({ place, before, after }: Change): Change => ({ place, before: after, after: before });

function step(document: Json, why: string, changes: Change[]): StepBack {
  const overrides = changes
    .filter((change) => !sameJson(valueAt(document, change.place), change.before) && !sameJson(valueAt(document, change.place), change.after))
    .map((change) => ({ place: change.place, before: change.before, after: valueAt(document, change.place) }));
  return { why, operations: changes.flatMap((change) => setting(document, change.place, change.after)), overrides };
}
