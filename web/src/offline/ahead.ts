// Keeps on this device what is read without a network, before anybody asks for it: answers and drawings of the revision as it
// is. One after the other and only while nothing else goes on: an edit, or a person, never waits for it.
import type { DrawingAsked, DrawingKind, Question } from '../api/client';
import { entriesOf } from '../document/names';
import { kSight } from '../plan/seen';
import { isObject, type Json } from '../document/json';

interface Site {
  readonly document: Json;
  ask(question: Question, signal?: AbortSignal): Promise<unknown>;
  drawing(kind: DrawingKind, asked: DrawingAsked, signal?: AbortSignal): Promise<{ sheets: number; kept: boolean }>;
  keepPicture(sha256: string, signal?: AbortSignal): Promise<void>;
}

export const kConditions = ['mains', 'mains_no_battery', 'mains_flat_battery', 'battery_full', 'battery_cutoff'] as const;
const kManyZones = 100; // levels of more are megabytes a condition: those are asked for when they are looked at
const kBetween_ms = 50;

export function questionsAhead(document: Json): Question[] {
  const few = entriesOf(document, 'zones').length <= kManyZones;
  const levels = few ? kConditions.map((condition) => ({ command: 'levels', condition })) : [];
  return [{ command: 'prove' }, kSight, { command: 'supply' }, { command: 'network' }, { command: 'clip' }, ...levels];
}
export function drawingsAhead(document: Json): { kind: DrawingKind; asked: DrawingAsked }[] {
  const ids = (collection: string) => entriesOf(document, collection).map(([id]) => id);
  return [
    { kind: 'plan', asked: {} },
    { kind: 'wiring', asked: {} },
    ...ids('units').map((of) => ({ kind: 'wiring' as const, asked: { of, volts: 'rest' as const } })),
    ...ids('cameras').map((of) => ({ kind: 'picture' as const, asked: { of } })),
    ...ids('supplies').map((of) => ({ kind: 'discharge' as const, asked: { of } })),
  ];
}

/** Pictures that plans are traced over. */
export const picturesAhead = (document: Json) => entriesOf(document, 'levels').flatMap(([, { picture }]) => (isObject(picture) && typeof picture.sha256 === 'string' ? [picture.sha256] : []));

/** True when all of it is kept; false where it was given up or the server went away. What the server refuses is passed over. */
export async function keepAhead(site: Site, signal: AbortSignal): Promise<boolean> {
  const rest = () => new Promise((next) => setTimeout(next, kBetween_ms));
  for (const question of questionsAhead(site.document)) {
    await site.ask(question, signal).catch(() => {});
    await rest();
    if (signal.aborted) return false;
  }
  for (const { kind, asked } of drawingsAhead(site.document)) {
    let sheets = 1;
    for (let page = 1; page <= sheets; ++page) {
      const drawn = await site.drawing(kind, { ...asked, page }, signal).catch(() => null);
      if (drawn?.kept) return false;
      sheets = drawn?.sheets ?? 1;
      await rest();
      if (signal.aborted) return false;
    }
  }
  for (const sha256 of picturesAhead(site.document)) {
    await site.keepPicture(sha256, signal).catch(() => {});
    if (signal.aborted) return false;
  }
  return true;
}
