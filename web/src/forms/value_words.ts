// A value of the site file in a few words, for lists, differences and questions.
import { isObject, type Json } from '../document/json';
import { quantity } from '../units/show';
import { words } from '../words/words.svelte';

const kLongest = 90;

export function shortValue(value: Json | undefined, unit = ''): string {
  if (value === undefined || value === null) return words.say('unknown_value');
  if (value === 'none') return words.say('none_value');
  if (typeof value === 'boolean') return words.say(value ? 'yes' : 'no');
  if (typeof value === 'number') return unit ? quantity(value, unit, words.reader, 6) : String(value);
  if (typeof value === 'string') return value.length > kLongest ? `${value.slice(0, kLongest)}…` : value;
  if (Array.isArray(value)) {
    if (value.every((one) => typeof one === 'string')) return value.join(', ');
    if (value.every((one) => isObject(one) && 'x_m' in one)) return words.say('points', { count: value.length });
    return words.say('entries', { count: value.length });
  }
  return ofObject(value, unit);
}

function ofObject(value: { [key: string]: Json }, unit: string): string {
  if ('value' in value || 'min' in value) {
    const nominal = value.value ?? value.min;
    const tolerance = typeof value.tolerance_pct === 'number' ? ` ±${value.tolerance_pct}\u00a0%` : '';
    const range = typeof value.min === 'number' && typeof value.max === 'number' ? ` (${shortValue(value.min, unit)} … ${shortValue(value.max, unit)})` : '';
    return shortValue(nominal, unit) + tolerance + range;
  }
  if (typeof value.name === 'string') return value.name;
  const keys = Object.keys(value);
  const text = keys.slice(0, 4).map((key) => `${key} ${isObject(value[key]) ? '…' : shortValue(value[key])}`).join(', ');
  return keys.length > 4 ? `${text}, …` : text || words.say('nothing_value');
}
