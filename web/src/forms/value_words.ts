// A value of the site file in a few words, for lists, differences and questions.
import { isObject, pointerTo, type Json, type JsonObject } from '../document/json';
import { quantity } from '../units/show';
import { words } from '../words/words.svelte';
import { fieldWords } from './field_words';
import type { SiteFields } from './fields';

const kLongest = 90;

/** What stands at a place, as its field has it: a number with its unit, a word in the reader's language. */
export function valueWords(fields: SiteFields | null, pointer: string, value: Json | undefined): string {
  const field = fields?.at(pointer)?.field;
  if (field?.kind === 'word' && typeof value === 'string') return words.named('word', value);
  return shortValue(value, field?.unit, (key, inside) => valueWords(fields, pointer + pointerTo(key), inside));
}

export function shortValue(value: Json | undefined, unit = '', inside = (_key: string, one: Json) => shortValue(one)): string {
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
  return ofObject(value, unit, inside);
}

function ofObject(value: JsonObject, unit: string, inside: (key: string, one: Json) => string): string {
  if ('value' in value || 'min' in value) {
    const nominal = value.value ?? value.min;
    const tolerance = typeof value.tolerance_pct === 'number' ? ` ±${value.tolerance_pct}\u00a0%` : '';
    const range = typeof value.min === 'number' && typeof value.max === 'number' ? ` (${shortValue(value.min, unit)} … ${shortValue(value.max, unit)})` : '';
    return shortValue(nominal, unit) + tolerance + range;
  }
  if (typeof value.name === 'string') return value.name;
  const keys = Object.keys(value);
  const text = keys.slice(0, 4).map((key) => `${fieldWords(key)} ${isObject(value[key]) ? '…' : inside(key, value[key]!)}`).join(', ');
  return keys.length > 4 ? `${text}, …` : text || words.say('nothing_value');
}
