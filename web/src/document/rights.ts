// What a role may change, told before an edit is made rather than after it has come back. The server decides
// (src/server/recorded.cpp): this is the same rule for words in time, also without a network.
import { isObject, type Json } from './json';
import type { Operation } from './patch';

/** Who is at this page, as far as it is known: a name where people log in, a role where the server has told one. */
export interface Who {
  name: string | null;
  role: string | null;
}

/** The role does not allow the edit; `place` is what it may not touch, null where it may change nothing at all. */
export class NotForRole extends Error {
  constructor(
    readonly role: string,
    readonly place: string | null,
  ) {
    super(`not for the role ${role}: ${place ?? 'any edit'}`);
  }
}

const isReading = (pointer: string) => pointer.includes('/zone_terminal/readings/');
const kOfNumbers = new Set(['value', 'plus', 'minus', 'min', 'max', 'tolerance_pct', 'tempco_ppm_K', 'origin', 'note']);
/** A number and nothing else: a data sheet has an origin as well. */
function isMeasured(value: Json): boolean {
  if (!isObject(value) || value.origin !== 'measured') return false;
  const isNumber = typeof value.value === 'number' || value.value === null;
  return isNumber && Object.keys(value).every((key) => kOfNumbers.has(key));
}

/** Whether an operation enters what was found on site: a reading, or a number that was measured. */
function isRecorded(operation: Operation): boolean {
  if (operation.op === 'test') return true;
  if (isReading(operation.path) && (operation.op !== 'move' || isReading(operation.from))) return true;
  return (operation.op === 'add' || operation.op === 'replace') && isMeasured(operation.value);
}

/** Throws NotForRole. A role that is not known is not judged here: the server says what it takes. */
export function demandRight(role: string | null, operations: readonly Operation[]): void {
  if (role === 'reader') throw new NotForRole(role, null);
  if (role !== 'technician') return;
  const other = operations.find((one) => !isRecorded(one));
  if (other) throw new NotForRole(role, other.path);
}
