// Keeps on this device what is read without a network, before anybody asks for it: answers and drawings of the revision as it
// is. One after the other and only while nothing else goes on: an edit, or a person, never waits for it.
import { Refused, type DrawingAsked, type DrawingKind, type Question } from '../api/client';
import { entriesOf } from '../document/names';
import { kSight } from '../plan/seen';
import { isObject, type Json } from '../document/json';
import { keepPicture } from './pictures';
import type { DeviceStore } from './store';

interface Site {
  readonly document: Json;
  readonly store: Pick<DeviceStore, 'answersLost'>;
  readonly client: { address(path: string): string };
  ask(question: Question, signal?: AbortSignal): Promise<{ by: string } | null>;
  drawing(kind: DrawingKind, asked: DrawingAsked, signal?: AbortSignal): Promise<{ sheets: number; kept: boolean }>;
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

const rest = () => new Promise((next) => setTimeout(next, kBetween_ms));

/** What the site has no answer to (no supply, nothing to draw) is refused as such, and there is nothing to be kept. Any other no may be a yes later. */
const hasNone = (fault: unknown) => fault instanceof Refused && (fault.status === 404 || fault.status === 422);

/**
 * True when all of it is on this device: answered by the server, and stored. False where anything of it is not, or it was
 * given up; what is there is fetched all the same, as far as the server answers.
 */
export async function keepAhead(site: Site, signal: AbortSignal): Promise<boolean> {
  const lostBefore = await site.store.answersLost();
  const answers = await keepAnswers(site, signal);
  const drawings = !signal.aborted && (await keepDrawings(site, signal));
  let pictures = true;
  for (const sha256 of picturesAhead(site.document)) {
    if (signal.aborted) return false;
    pictures = (await keepPicture(site.client.address(`/api/files/${sha256}`), signal)) && pictures;
  }
  const stored = (await site.store.answersLost()) === lostBefore;
  return answers && drawings && pictures && stored && !signal.aborted;
}

async function keepAnswers(site: Site, signal: AbortSignal): Promise<boolean> {
  let all = true;
  for (const question of questionsAhead(site.document)) {
    try {
      all = (await site.ask(question, signal))?.by === 'server' && all;
    } catch (fault) {
      all = hasNone(fault) && all;
    }
    await rest();
    if (signal.aborted) return false;
  }
  return all;
}

async function keepDrawings(site: Site, signal: AbortSignal): Promise<boolean> {
  let all = true;
  for (const { kind, asked } of drawingsAhead(site.document)) {
    let sheets = 1;
    for (let page = 1; page <= sheets; ++page) {
      try {
        const drawn = await site.drawing(kind, { ...asked, page }, signal);
        if (drawn.kept) return false; // the server is away
        sheets = drawn.sheets;
      } catch (fault) {
        all = hasNone(fault) && all;
        sheets = 0;
      }
      await rest();
      if (signal.aborted) return false;
    }
  }
  return all;
}
