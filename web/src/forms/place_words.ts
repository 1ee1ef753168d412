// A place of the site file as people call it: the thing, and what of it.
import type { Json } from '../document/json';
import { ownerOf } from '../document/names';
import { fieldWords } from './field_words';

export function placeWords(document: Json, pointer: string): string {
  const { id, name, rest } = ownerOf(document, pointer);
  return [id === '' ? fieldWords(name) : name, ...rest.map((key) => fieldWords(key))].join(' · ');
}
