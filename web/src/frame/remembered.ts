// Whose page this device was last, and of which book: what the page goes by where the server cannot be asked.
import type { Known } from '../api/client';

export interface Remembered extends Known {
  locked: boolean; // somebody has logged out: without a login nothing is shown, also not what this device keeps
  due: string | null; // who logged out while the server was away: the server is told when it is there again
}

const kKey = 'visit';
const kNobody: Remembered = { book: '', name: null, role: null, locked: false, due: null };

export function readRemembered(text: string | null): Remembered {
  try {
    const said = JSON.parse(text ?? '{}') as Partial<Remembered>;
    const word = (value: unknown) => (typeof value === 'string' ? value : null);
    return { book: word(said.book) ?? '', name: word(said.name), role: word(said.role), locked: said.locked === true, due: word(said.due) };
  } catch {
    return kNobody;
  }
}
export function remembered(): Remembered {
  try {
    return readRemembered(localStorage.getItem(kKey));
  } catch {
    return kNobody; // a private window: nothing is known of before
  }
}
export function remember(one: Remembered): void {
  try {
    localStorage.setItem(kKey, JSON.stringify(one));
  } catch {
    // a private window: known for this page alone
  }
}
/** Tells of what another tab of this device has remembered. */
export function onRemembered(listener: (one: Remembered) => void): void {
  globalThis.addEventListener?.('storage', (event) => {
    if (!(event instanceof StorageEvent)) return;
    if (event.key === kKey) listener(readRemembered(event.newValue));
  });
}
