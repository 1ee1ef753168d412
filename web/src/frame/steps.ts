// Undo and redo, as the keys and the title block ask for it. Where somebody has changed the place since, both values are
// shown and the person is asked before theirs is written over.
import type { Json } from '../document/json';
import { say } from '../words/words.svelte';
import { placeWords } from '../forms/place_words';
import { valueWords } from '../forms/value_words';
import { workbench } from './workbench.svelte';

export async function undoRedo(which: 'undo' | 'redo'): Promise<void> {
  const { site } = workbench;
  if (!site) return;
  const step = site.stepBack(which);
  if (!step) {
    workbench.tell(say(which === 'undo' ? 'nothing_to_undo' : 'nothing_to_redo'));
    return;
  }
  if (step.overrides.length > 0) {
    const shown = (place: string, value: Json | undefined) => valueWords(workbench.fields, place, value);
    const told = step.overrides.map((one) => `${placeWords(site.document, one.place)}: ${shown(one.place, one.after)} / ${shown(one.place, one.before)}`).join('\n');
    if (!confirm(`${say('changed_since')}\n\n${told}\n\n${say(which === 'undo' ? 'undo_anyway' : 'redo_anyway')}`)) return;
  }
  const before = site.document;
  try {
    await site.step(which, say(which === 'undo' ? 'why_undo' : 'why_redo', { why: step.why }));
    const changed = site.document !== before;
    workbench.tell(say(changed ? (which === 'undo' ? 'undone' : 'redone') : 'step_was_there', { why: step.why }));
  } catch (fault) {
    workbench.tellFault(fault);
  }
}
