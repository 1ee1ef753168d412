// What stands in each place of a site file, read from its schema: what a field expects, in what unit, what it means.
import { keysOf, type Json, type JsonObject } from '../document/json';

export type FieldKind = 'number' | 'whole' | 'flag' | 'text' | 'word' | 'reference' | 'references' | 'object' | 'map' | 'list';

export interface Field {
  key: string;
  kind: FieldKind;
  meaning: string;
  unit: string;
  words: string[];
  refersTo: string[]; // collections that the id may stand in
  partKinds: string[]; // of ids of parts: kinds that fit
  mayBeNone: boolean;
  low: number | null;
  high: number | null;
  longest: number | null;
  record: string | null; // object, map, list: what is inside
}

/** Members that the program keeps itself, and the copies of shelf and rulebooks, which have screens of their own. */
const kNotEntered = new Set(['format', 'version', 'revision']);

export class SiteFields {
  #definitions: Record<string, JsonObject>;
  #records = new Map<string, Field[]>();

  constructor(private readonly schema: JsonObject) {
    this.#definitions = (schema.$defs ?? {}) as Record<string, JsonObject>;
  }

  /** The fields of an object: "Zone", "Loop"; '' is the site itself. Empty where there is no such object. */
  of(record: string): Field[] {
    let found = this.#records.get(record);
    if (!found) {
      const definition = record === '' ? this.schema : this.#definitions[record];
      const properties = (definition?.properties ?? {}) as Record<string, JsonObject>;
      found = Object.entries(properties)
        .filter(([key]) => record !== '' || !kNotEntered.has(key))
        .map(([key, schema]) => this.#read(key, schema));
      this.#records.set(record, found);
    }
    return found;
  }
  meaningOf(record: string): string {
    return String((record === '' ? this.schema : this.#definitions[record])?.description ?? '');
  }
  field(record: string, key: string): Field | null {
    return this.of(record).find((field) => field.key === key) ?? null;
  }

  /** What stands at a pointer: the record it is in, and its field; an entry of a map or list has the record alone. */
  at(pointer: string): { record: string; field: Field | null } | null {
    let record = '';
    let field: Field | null = null;
    let entry = false; // the next key is an id or a number of an entry
    for (const key of keysOf(pointer)) {
      if (entry) {
        entry = false;
        field = null;
        continue;
      }
      if (field !== null && field.kind !== 'object') return null;
      field = this.field(record, key);
      if (field === null) return null;
      if (field.record !== null) record = field.record;
      entry = field.kind === 'map' || field.kind === 'list';
    }
    return { record, field };
  }

  #definition(schema: JsonObject): JsonObject {
    const all = (schema.allOf as JsonObject[] | undefined)?.[0];
    const reference = (schema.$ref ?? all?.$ref) as string | undefined;
    return reference ? (this.#definitions[nameOf(reference)] ?? {}) : schema;
  }

  #read(key: string, schema: JsonObject): Field {
    const field: Field = {
      key, kind: 'text', meaning: String(schema.description ?? ''), unit: String(schema.unit ?? ''), words: [], refersTo: [], partKinds: [],
      mayBeNone: false, low: null, high: null, longest: null, record: null,
    };
    const choices = schema.anyOf as JsonObject[] | undefined;
    const inside = choices?.find((one) => one.$ref) ?? schema;
    const name = nameOf(String(inside.$ref ?? (inside.allOf as JsonObject[] | undefined)?.[0]?.$ref ?? ''));
    if (name.startsWith('number_')) return this.#number(field, this.#definition(inside));
    if (name) return { ...field, kind: 'object', record: name };
    if (schema.enum) return { ...field, kind: 'word', words: (schema.enum as Json[]).filter((one) => one !== null).map(String) };
    const types = [schema.type].flat() as string[];
    if (types.includes('boolean')) return { ...field, kind: 'flag' };
    if (types.includes('integer')) return { ...field, kind: 'whole', low: number(schema.minimum), high: number(schema.maximum) };
    if (types.includes('object')) return { ...field, kind: 'map', record: nameOf(String((schema.additionalProperties as JsonObject)?.$ref ?? '')) };
    if (types.includes('array')) return this.#list(field, schema.items as JsonObject);
    if (schema.refers_to) return this.#reference({ ...field, kind: 'reference' }, schema);
    return { ...field, longest: number(schema.maxLength) };
  }
  #reference(field: Field, schema: JsonObject): Field {
    return {
      ...field,
      refersTo: (schema.refers_to ?? []) as string[],
      partKinds: (schema.part_kinds ?? []) as string[],
      mayBeNone: schema.not === undefined && field.kind === 'reference',
    };
  }
  #list(field: Field, items: JsonObject): Field {
    if (items.$ref) return { ...field, kind: 'list', record: nameOf(String(items.$ref)) };
    return this.#reference({ ...field, kind: 'references' }, items);
  }
  #number(field: Field, definition: JsonObject): Field {
    const choices = (definition.anyOf ?? []) as JsonObject[];
    const limits = choices.find((one) => one.type === 'number');
    return {
      ...field, kind: 'number', low: number(limits?.minimum), high: number(limits?.maximum),
      mayBeNone: choices.some((one) => one.const === 'none'),
    };
  }
}

const nameOf = (reference: string) => reference.replace('#/$defs/', '');
const number = (value: Json | undefined) => (typeof value === 'number' ? value : null);
