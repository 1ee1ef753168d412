// Undo and redo of one's own edits. An entry holds what an edit did, place by place; to undo it is an edit of its own,
// which goes the way of all edits. Where a place no longer holds what the edit made of it, somebody has changed it
// since: then the person is asked.
import { sameJson, valueAt, type Json } from './json';
import { setting, type Change, type Operation } from './patch';

export interface Done {
  why: string;
  changes: Change[];
}

export interface StepBack {
  why: string;
  operations: Operation[];
  overrides: Change[]; // places that hold something else than the edit had left there: `after` is what they hold now
}

const kDeepest = 500;

export class History {
  #done: Done[] = [];
  #undone: Done[] = [];

  get canUndo(): Done | undefined {
    return this.#done.at(-1);
  }
  get canRedo(): Done | undefined {
    return this.#undone.at(-1);
  }

  /** An edit was made; what had been undone cannot be done again. */
  record(done: Done): void {
    if (done.changes.length === 0) return;
    this.#done.push(done);
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
  undid(): void {
    const last = this.#done.pop();
    if (last) this.#undone.push(last);
  }
  redid(): void {
    const last = this.#undone.pop();
    if (last) this.#done.push(last);
  }
}

const turned = ({ place, before, after }: Change): Change => ({ place, before: after, after: before });

function step(document: Json, why: string, changes: Change[]): StepBack {
  const overrides = changes
    .filter((change) => !sameJson(valueAt(document, change.place), change.before))
    .map((change) => ({ place: change.place, before: change.before, after: valueAt(document, change.place) }));
  return { why, operations: changes.flatMap((change) => setting(document, change.place, change.after)), overrides };
}
