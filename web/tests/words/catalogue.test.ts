import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import de from '../../src/words/de.json';
import en from '../../src/words/en.json';

const holes = (text: string) => [...text.matchAll(/\{(\w+)\}/g)].map(([, name]) => name).sort();
const catalogue: Record<string, string> = en;

test('every sentence is there in every language, with the same holes', () => {
  expect(Object.keys(de).sort()).toEqual(Object.keys(en).sort());
  for (const [key, text] of Object.entries(de)) expect(holes(text), key).toEqual(holes(catalogue[key]!));
});

test('no sentence shouts', () => {
  for (const text of [...Object.values(en), ...Object.values(de)]) expect(text).not.toContain('!');
});

function sources(folder: URL): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory() ? sources(new URL(`${entry.name}/`, folder)) : /\.(ts|svelte)$/.test(entry.name) ? [readFileSync(new URL(entry.name, folder), 'utf8')] : [],
  );
}
test('every sentence is used, or belongs to a set that is named at run time', () => {
  const all = sources(new URL('../../src/', import.meta.url)).join('\n');
  const built = /^(entry_|plan_tool_|plan_hint_|trace_fault_|trace_why_)/; // chosen by a fault or a tool
  for (const key of Object.keys(en)) {
    if (key.includes('.') || built.test(key)) continue;
    expect(all.includes(`'${key}'`), key).toBe(true);
  }
});
