// How far a number may be off, as it is typed and shown: in the unit of its field, the way a person reads lengths and temperatures.
import { differenceShown, differenceTyped, numberShown, twoWays, typed, type System } from '../units/show';
import type { EntryFault } from './entry';

export type Ends = 'range' | 'sides'; // lowest and highest, or how much less and more
export type EndsRead = { ends: [number, number] | null } | { fault: EntryFault };

export const endShown = (kind: Ends, value: number, unit: string, system: System) => (kind === 'range' ? numberShown : differenceShown)(value, unit, system);

const faultOf = (text: string): { fault: EntryFault } => ({ fault: twoWays(text) ? 'two_ways' : 'no_number' });

/** Null where both are empty: nothing is told. */
export function readEnds(kind: Ends, low: string, high: string, unit: string, system: System): EndsRead {
  if (low.trim() === '' && high.trim() === '') return { ends: null };
  const read = (text: string) => (kind === 'range' ? typed : differenceTyped)(text, unit, system);
  const wrong = [low, high].find((text) => text.trim() !== '' && read(text) === null);
  if (wrong !== undefined) return faultOf(wrong);
  if (low.trim() === '' || high.trim() === '') return { fault: 'both_needed' };
  return { ends: [read(low)!, read(high)!] };
}
export function readShare(text: string): { share: number | null } | { fault: EntryFault } {
  if (text.trim() === '') return { share: null };
  const share = typed(text, 'pct', 'metric');
  if (share === null) return faultOf(text);
  return share < 0 || share > 100 ? { fault: 'no_share' } : { share };
}
