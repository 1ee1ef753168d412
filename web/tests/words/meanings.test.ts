// What fields mean, in German: every sentence that the page can show, none that the schema has no longer, and the same said.
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { fieldWords } from '../../src/forms/field_words';
import { SiteFields, type Field } from '../../src/forms/fields';
import { placeWords } from '../../src/forms/place_words';
import { valueWords } from '../../src/forms/value_words';
import { tablesOf } from '../../src/tables/columns';
import de from '../../src/words/de.json';
import en from '../../src/words/en.json';
import catalogue from '../../src/words/meanings_de.json';
import { meanings } from '../../src/words/meanings.svelte';
import { words } from '../../src/words/words.svelte';

const schema = JSON.parse(readFileSync(new URL('../../../data/schema/site.schema.json', import.meta.url), 'utf8'));
const fields = new SiteFields(schema);
const records = ['', ...Object.keys(schema.$defs)];
const german: Record<string, string> = catalogue;
const pairs = Object.entries(german);
const wordsOf: Record<'en' | 'de', Record<string, string>> = { en, de };

/** The site's own record and every one below it, with all their fields, `format` and the like included. */
const shown = new Set(
  records.flatMap((record) => [fields.meaningOf(record), ...fields.of(record).map((field) => field.meaning)]).filter((sentence) => sentence !== ''),
);
const described = new Set<string>();
(function walk(part: unknown) {
  if (typeof part !== 'object' || part === null) return;
  const { description } = part as { description?: unknown };
  if (typeof description === 'string') described.add(description);
  Object.values(part).forEach(walk);
})(schema);

describe('the catalogue', () => {
  test('has every sentence that the page can show', () => {
    expect(shown.size).toBeGreaterThan(600);
    expect([...shown].filter((sentence) => !Object.hasOwn(german, sentence))).toEqual([]);
  });
  test('has no sentence that the schema has no longer', () => {
    expect(pairs.map(([sentence]) => sentence).filter((sentence) => !described.has(sentence))).toEqual([]);
  });
  test('says whole sentences, none of them in English', () => {
    const english = /\b(the|of|where|which|what|its|it|whether|and|none|left out)\b/;
    for (const [sentence, said] of pairs) {
      expect(said, sentence).toMatch(/^[„\p{Lu}]?.*\.$/u);
      expect(said.replace('common practice, no source', ''), sentence).not.toMatch(english);
      expect(said, sentence).not.toMatch(/[`_!]| {2}|\bSie\b/); // no key of the file, no shouting, nobody is addressed
    }
  });
  test('has the numbers and units of the English sentence, decimals with a comma', () => {
    const numbers = (text: string) => [...text.matchAll(/\d+(?:[.,]\d+)*/g)].map(([one]) => one.replace(',', '.')).sort();
    const units = (text: string) => [...text.replace('degrees Celsius', '°C').matchAll(/(?<![\p{L}\d^_])(V|h|ohm|pct|pF|mA|°C|%)(?![\p{L}\d^])/gu)].map(([one]) => one).sort();
    for (const [sentence, said] of pairs) {
      expect(numbers(said), sentence).toEqual(numbers(sentence));
      expect(units(said), sentence).toEqual(units(sentence));
      expect(said.replace('IEEE 802.3', ''), sentence).not.toMatch(/\d\.\d/);
    }
  });
  test('says "none" as the choice beside it says it', () => {
    for (const [sentence, said] of pairs) {
      if (/(; |is )none\b/.test(sentence)) expect(said, sentence).toContain(de.none_value);
    }
  });
  test('explains the words of a choice by the words that are chosen', () => {
    let explained = 0;
    for (const field of records.flatMap((record) => fields.of(record))) {
      for (const word of field.words.filter((one) => new RegExp(`(^|; )${one}:`).test(field.meaning))) {
        expect(german[field.meaning]!.toLowerCase(), field.key).toContain(`${wordsOf.de[`word.${word}`]!.toLowerCase()}:`);
        explained += 1;
      }
    }
    expect(explained).toBeGreaterThan(7);
  });
  // docs/glossary-de.md: one term for one thing.
  test.each([
    [/\bzones?\b/, /Meldergruppe/], [/(?<!glass )\bpartitions?\b/, /Sicherungsbereich/], [/\b(alarm )?panels?\b/, /[Zz]entrale/], [/\bexpanders?\b/, /Erweiterung/],
    [/\bloops?\b/, /Linie/], [/\bpair of wires\b/, /Adernpaar/], [/\bend-of-line\b/, /Abschlusswiderst/], [/\bterminals?\b/, /[Kk]lemme/],
    [/(?<!its |entry's )\bunits?\b(?! of)/, /Videomodul/], [/\btriggers?\b/, /[Aa]uslös/], [/\bpresets?\b/, /Voreinstellung/], [/\bdetectors?\b/, /[Mm]elder/], [/\barmed\b/, /[Ss]charf/],
    [/\bdisarmed\b/, /unscharf/], [/\bjunctions?\b/, /Verteiler/], [/\brulebooks?\b/, /Regelwerk/], [/\boperator\b/, /Operator/], [/\bstation\b/, /Leitstelle/],
    [/\btamper\b/, /Sabotage/], [/\bbatter(y|ies)\b/, /[Bb]atterie/], [/\bshelf\b/, /Teileregal/],
  ])('%s is %s', (term, translation) => {
    const about = pairs.filter(([sentence]) => term.test(sentence));
    expect(about.length).toBeGreaterThan(0);
    for (const [sentence, said] of about) expect(said, sentence).toMatch(translation);
  });
});

describe('what stands beside it', () => {
  test('every field has a name, and every word that can be chosen is said, in both languages', () => {
    for (const catalogue of Object.values(wordsOf)) {
      for (const field of records.flatMap((record) => fields.of(record))) {
        expect(catalogue[`field.${field.key}`], field.key).toBeTruthy();
        for (const word of field.words) expect(catalogue[`word.${word}`], `${field.key}: ${word}`).toBeTruthy();
      }
    }
  });
  test('no name and no word is left over', () => {
    const all = records.flatMap((record) => [...fields.of(record)]);
    const used = new Set([...all.map((field) => `field.${field.key}`), ...all.flatMap((field) => field.words.map((word) => `word.${word}`)), ...Object.keys(schema.properties).map((key) => `field.${key}`)]);
    expect(Object.keys(en).filter((key) => /^(field|word)\./.test(key) && !used.has(key))).toEqual([]);
  });
  test('no two choices of a field look alike', () => {
    const inOneField = (field: Field, said: Record<string, string>) => [
      ...field.words.map((word) => said[`word.${word}`]!), said.not_known!, ...(field.mayBeNone ? [said.none_value!] : []),
    ];
    for (const said of Object.values(wordsOf)) {
      for (const field of records.flatMap((record) => fields.of(record)).filter((one) => one.kind === 'word')) {
        const all = inOneField(field, said).map((one) => one.toLowerCase());
        expect(new Set(all).size, `${field.key}: ${all.join(', ')}`).toBe(all.length);
      }
    }
  });
});

describe('a page in German', () => {
  const sentence = 'The end-of-line resistor.';
  beforeAll(() => words.choose({ language: 'en' }));

  test('fetches what fields mean, and says in English what it has not', async () => {
    await meanings.fetch('en');
    words.choose({ language: 'de' });
    expect(meanings.of(sentence)).toBe(sentence); // not there yet
    await meanings.fetch('de');
    expect(meanings.of(sentence)).toBe('Der Abschlusswiderstand.');
    expect(meanings.of('A sentence of a newer server.')).toBe('A sentence of a newer server.');
    words.choose({ language: 'en' });
    expect(meanings.of(sentence)).toBe(sentence);
  });
  test('tells places and values in German, with units', () => {
    words.choose({ language: 'de' });
    const site = { zones: { z1: { number: 1, name: 'Lager' } } };
    expect(placeWords(site, '/zones/z1/loop/eol_ohm')).toBe('1 Lager · Linie · Abschlusswiderstand');
    expect(placeWords(site, '/bonds_complete')).toBe('Alle verbundenen Minusleiter aufgeführt');
    expect(valueWords(fields, '/zones/z1/type', 'hold_up')).toBe('Überfall');
    expect(valueWords(fields, '/zones/z1/loop/eol_ohm', { value: 5600, tolerance_pct: 1 })).toBe('5,6\u00a0kΩ ±1\u00a0%');
    expect(valueWords(fields, '/zones/z1/loop', { arrangement: 'double_eol', eol_place: 'at_end' })).toBe('Anordnung zwei Abschlusswiderstände, Abschlusswiderstand sitzt am Ende');
    words.choose({ language: 'en' });
  });
  test('tells the columns of a table apart', () => {
    for (const language of ['en', 'de'] as const) {
      words.choose({ language });
      for (const table of tablesOf(fields)) {
        const heads = table.columns.map((column) => `${fieldWords(column.keys.at(-1)!)} (${column.field.unit})`);
        expect(new Set(heads).size, `${table.name}: ${heads.join(', ')}`).toBe(heads.length);
      }
    }
    words.choose({ language: 'en' });
  });
});
