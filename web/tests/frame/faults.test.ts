// What went wrong is said in words of the language, and never as the fault of a program.
import { afterEach, expect, test } from 'vitest';
import { OtherVisit, Refused, Unreachable } from '../../src/api/client';
import { PatchFault } from '../../src/document/patch';
import { NotForRole } from '../../src/document/rights';
import { faultWords } from '../../src/frame/fault_words';
import { readRemembered } from '../../src/frame/remembered';
import { words } from '../../src/words/words.svelte';

const document = { zones: { z1: { name: 'Gate' } } };
afterEach(() => words.choose({ language: 'en' }));

const faults: [unknown, RegExp, RegExp][] = [
  [new Unreachable('TypeError: Failed to fetch'), /cannot be reached/, /nicht erreichbar/],
  [new OtherVisit('another visit'), /Another book/, /anderes Buch/],
  [new Refused(500, []), /status 500/, /Status 500/],
  [new Refused(422, [{ code: 'c', text: 'It is wrong.', remedy: 'Do this.' }]), /^It is wrong\. Do this\.$/, /^It is wrong\. Do this\.$/],
  [new PatchFault(0, '/zones/z1/name', 'nothing_there'), /^Gate · .* is not there any more/, /^Gate · .* gibt es nicht mehr/],
  [new PatchFault(0, '/zones/z1/name', 'no_place'), /^Gate · .* cannot be entered/, /^Gate · .* lässt sich dort nicht eintragen/],
  [new NotForRole('reader', null), /role is reader/, /Rolle ist Lesen/],
  [new NotForRole('technician', '/zones/z1/name'), /Gate · .* is neither/, /Gate · .* ist keines davon/],
  [new SyntaxError('Unexpected token <'), /cannot be read/, /unlesbar/],
];
test.each(faults)('%s', (fault, english, german) => {
  for (const [language, said] of [['en', english], ['de', german]] as const) {
    words.choose({ language });
    expect(faultWords(fault, document)).toMatch(said);
    expect(faultWords(fault, document)).not.toMatch(/Failed to fetch|operation \d|nothing_there|Unexpected token/);
  }
});

test('what is remembered of the last visit is read with care: it can be of any page, or of nobody', () => {
  expect(readRemembered(null)).toEqual({ book: '', name: null, role: null, locked: false, due: null });
  expect(readRemembered('{"book": 7, "name": "anna", "locked": "yes"}')).toEqual({ book: '', name: 'anna', role: null, locked: false, due: null });
  expect(readRemembered('no JSON')).toMatchObject({ name: null, locked: false });
});
