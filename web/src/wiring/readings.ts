// What is measured at a place of the wiring drawing: the ids of the drawing tell the terminal or the thing, the answers of
// `levels` and `supply` the volts. Nothing is computed here.
import { isObject, type Json } from '../document/json';
import { collectionOf, entriesOf } from '../document/names';

export interface Side {
  low_V: number | null;
  nominal_V: number | null;
  high_V: number | null;
}
/** What is fed: volts at its terminals and what it takes. */
export interface Load extends Side {
  id: string;
  off: boolean;
  current: { nominal_A: number | null; most_A: number | null };
}
export interface Level {
  zone: string;
  trigger: string | null;
  state: string;
  supply: string;
  unit: string;
  panel: Side | null;
  unit_input: Side | null;
}
export interface Place {
  zone: string | null; // whose loop or trigger wire is pointed at
  side: 'panel' | 'unit_input';
  things: string[]; // ids of the site under the pointer
}

/** What the innermost groups under the pointer belong to. */
export function placeOf(document: Json, ids: readonly string[]): Place {
  const things: string[] = [];
  let zone: string | null = null;
  let side: Place['side'] = 'panel';
  for (const id of ids) {
    const input = /(?:terminal|wire)-([a-z][a-z0-9_]*)-in(\d+)/.exec(id);
    if (input && zone === null) {
      const [, owner, number] = input;
      const trigger = entriesOf(document, 'triggers').find(([, one]) => one.unit === owner && one.input === Number(number));
      const own = entriesOf(document, 'zones').find(([, one]) => one.panel === owner && one.input === Number(number));
      if (own) zone = own[0];
      else if (trigger && typeof trigger[1].zone === 'string') {
        zone = trigger[1].zone;
        side = 'unit_input';
      }
    }
    for (const token of id.split(/[-.]/)) {
      const collection = collectionOf(document, token);
      if (collection === null || things.includes(token)) continue;
      things.push(token);
      if (collection === 'zones' && zone === null) {
        zone = token;
        if (/-tap(-|$)/.test(id)) side = 'unit_input';
      }
      if (collection === 'triggers' && zone === null) {
        const trigger = entriesOf(document, 'triggers').find(([one]) => one === token)?.[1];
        if (isObject(trigger) && typeof trigger.zone === 'string') zone = trigger.zone;
        side = 'unit_input';
      }
    }
  }
  return { zone, side, things };
}
