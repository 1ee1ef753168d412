// What becomes of an edit or a look at the server that did not go through.
import { Refused, Unreachable } from '../api/client';

export type Fate =
  | 'refused' // this edit is at fault: it is kept with the server's words, and the others go on
  | 'behind' // the server has something newer: look, join, send again
  | 'log_in' // nothing goes before somebody logs in
  | 'away' // the server cannot be reached: later, by itself
  | 'failing'; // the server answers and cannot do it now: its words are told, and it is tried again later

/** 404: the site is not in the book any more, so no edit of it can be taken. */
const kEditAtFault = [400, 404, 413, 422];
/** Who may not make the edit cannot make it later either; any other 403 speaks of the visit, not of the edit. */
const kNotForRole = ['server_only_recorded', 'server_role_needed'];
/** The patch says another base than the server has: of an edit in between, or of a book that was brought back from a copy. */
const kOtherBase = ['server_edit_behind', 'patch_other_revision', 'patch_other_content'];

export function fateOf(fault: unknown): Fate {
  if (fault instanceof Unreachable) return 'away';
  if (!(fault instanceof Refused)) return 'failing';
  const says = (codes: readonly string[]) => fault.problems.some((problem) => codes.includes(problem.code));
  if (fault.status === 401) return 'log_in';
  if ((fault.status === 409 || fault.status === 422) && says(kOtherBase)) return 'behind';
  if (fault.status === 403 && says(kNotForRole)) return 'refused';
  return kEditAtFault.includes(fault.status) ? 'refused' : 'failing';
}
