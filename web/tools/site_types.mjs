// Writes src/document/site_types.ts from data/schema/site.schema.json: one interface for each object of a site file.
// With --check it writes nothing and fails where the file is not what it would write.
import { readFileSync, writeFileSync } from 'node:fs';

const schemaFile = new URL('../../data/schema/site.schema.json', import.meta.url);
const typesFile = new URL('../src/document/site_types.ts', import.meta.url);
const schema = JSON.parse(readFileSync(schemaFile, 'utf8'));

const nameOf = (reference) => reference.replace('#/$defs/', '');
const isNumber = (name) => name.startsWith('number_');
const literal = (value) => (value === null ? 'null' : JSON.stringify(value).replaceAll('"', "'"));

/** The TypeScript of one schema: the few shapes that the site's schema is made of, and nothing else. */
function typeOf(part) {
  if (part.$ref) {
    const name = nameOf(part.$ref);
    if (!isNumber(name)) return name;
    return name.endsWith('_or_none') ? 'QuantityOrNone' : 'Quantity';
  }
  if (part.allOf) return typeOf(part.allOf[0]);
  if (part.anyOf) return part.anyOf.map(typeOf).join(' | ');
  if (part.enum) return part.enum.map(literal).join(' | ');
  if ('const' in part) return literal(part.const);
  const types = [part.type].flat();
  return types.map((type) => plain(type, part)).join(' | ');
}

function plain(type, part) {
  switch (type) {
    case 'null': return 'null';
    case 'boolean': return 'boolean';
    case 'integer':
    case 'number': return 'number';
    case 'string': return 'string';
    case 'array': return `Array<${typeOf(part.items)}>`;
    case 'object':
      if (part.additionalProperties) return `Record<string, ${typeOf(part.additionalProperties)}>`;
  }
  throw new Error(`a schema that this script does not know: ${JSON.stringify(part)}`);
}

function interfaceOf(name, part) {
  const required = new Set(part.required ?? []);
  const lines = Object.entries(part.properties).map(([key, field]) => {
    const known = required.has(key);
    return `  /** ${field.description ?? ''} */\n  ${key}${known ? '' : '?'}: ${typeOf(field)};`;
  });
  return `/** ${part.description} */\nexport interface ${name} {\n${lines.join('\n')}\n}\n`;
}

const parts = Object.entries(schema.$defs).filter(([name]) => !isNumber(name) && name !== 'tolerance_rules');
const text = [
  '// Made by tools/site_types.mjs from data/schema/site.schema.json: do not edit.\n',
  `/** Where a number comes from. */
export type Origin = 'measured' | 'data_sheet' | 'standard' | 'envelope' | 'typical' | 'assumed';

/** A number with its tolerance and origin; null where unknown. */
export interface Measured {
  value?: number | null;
  plus?: number;
  minus?: number;
  tolerance_pct?: number;
  min?: number;
  max?: number;
  tempco_ppm_K?: number;
  origin?: Origin;
  note?: string;
}
export type Quantity = number | null | Measured;
export type QuantityOrNone = Quantity | 'none' | (Omit<Measured, 'value'> & { value?: number | null | 'none' });
`,
  ...parts.map(([name, part]) => interfaceOf(name, part)),
  interfaceOf('Site', schema),
].join('\n');

if (process.argv.includes('--check')) {
  if (readFileSync(typesFile, 'utf8') !== text) {
    console.error('src/document/site_types.ts is stale: npm run types writes it anew.');
    process.exit(1);
  }
} else {
  writeFileSync(typesFile, text);
}
