// What a field is called: the catalogue's word, else its key without the unit.
import { words } from '../words/words.svelte';

const kUnits = /_(ohm|V|A|W|Ah|Wh|h|s|m|mm|mm2|degC|deg|px|pct|bps|kbps|Mbps|Mohm_km|ohm_per_km|nF_per_km|ppm_K|years|d|kB|GB|fps|px_per_m|um|nF)$/;

export function fieldWords(key: string): string {
  const named = words.named('field', key);
  const word = named === key.replaceAll('_', ' ') ? key.replace(kUnits, '').replaceAll('_', ' ') : named;
  return word.charAt(0).toUpperCase() + word.slice(1);
}
