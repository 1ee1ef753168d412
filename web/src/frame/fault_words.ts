// What went wrong, in the words of the page's language. What the server says of it is in that language already.
import { OtherVisit, Refused, Unreachable } from '../api/client';
import type { Json } from '../document/json';
import { PatchFault } from '../document/patch';
import { NotForRole } from '../document/rights';
import { placeWords } from '../forms/place_words';
import { say } from '../words/words.svelte';

export function faultWords(fault: unknown, document: Json = {}): string {
  if (fault instanceof Refused) {
    const told = fault.problems.map((problem) => [problem.text, problem.remedy].filter(Boolean).join(' ')).join(' ');
    return told || say('fault_status', { status: fault.status });
  }
  if (fault instanceof OtherVisit) return say('fault_other_visit');
  if (fault instanceof Unreachable) return say('fault_away');
  if (fault instanceof NotForRole) return fault.place === null ? say('fault_reader') : say('fault_technician', { place: placeWords(document, fault.place) });
  if (fault instanceof PatchFault) return say(fault.reason === 'nothing_there' ? 'fault_nothing_there' : 'fault_no_place', { place: placeWords(document, fault.pointer) });
  if (fault instanceof SyntaxError) return say('fault_unreadable');
  return say('fault_other', { detail: fault instanceof Error ? fault.message : String(fault) });
}
