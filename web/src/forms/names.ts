// How this language writes what is typed into fields.
import { words } from '../words/words.svelte';
import type { Names } from './entry';

export const names = (): Names => ({
  system: words.system, none: words.say('none_value'), yes: words.say('yes'), no: words.say('no'), word: (word) => words.named('word', word),
});
