// The screens of a site, in the order in which they stand in the register; Alt and the number go there.
import type { WordKey } from '../words/words.svelte';

export interface Screen {
  name: string;
  word: WordKey;
  beneath?: string[]; // screens that are reached from it, and count as it in the register
}
export const kScreens: Screen[] = [
  { name: 'board', word: 'screen_board', beneath: ['zone', 'finding'] },
  { name: 'plan', word: 'screen_plan' },
  { name: 'wiring', word: 'screen_wiring' },
  { name: 'supply', word: 'screen_supply' },
  { name: 'clip', word: 'screen_clip' },
  { name: 'network', word: 'screen_network' },
  { name: 'tables', word: 'screen_tables', beneath: ['edit'] },
  { name: 'parts', word: 'screen_parts' },
  { name: 'handover', word: 'screen_handover' },
  { name: 'revisions', word: 'screen_revisions' },
];
