// What stands in the tables: columns by their keys inside an entry, with the field that each is.
import { pointerTo } from '../document/json';
import type { Field, SiteFields } from '../forms/fields';

export interface Column {
  keys: string[];
  field: Field;
}
export interface Table {
  name: string; // in the address; one of a collection's own has its name
  collection: string;
  columns: Column[];
}

/** Tables that people know by a name of their own, with the columns that they look for. */
const kChosen: { name: string; collection: string; columns: string[] }[] = [
  { name: 'zones', collection: 'zones', columns: ['number', 'name', 'type', 'partition', 'medium', 'panel', 'input', 'doubled_with'] },
  {
    name: 'terminations', collection: 'zones',
    columns: ['number', 'name', 'loop/arrangement', 'loop/eol_ohm', 'loop/alarm_ohm', 'loop/eol_place', 'loop/cable', 'loop/core_colour', 'loop/return_core_colour', 'loop/shared_return', 'loop/contacts_complete'],
  },
  {
    name: 'triggers', collection: 'triggers',
    columns: ['zone', 'source', 'unit', 'input', 'channel', 'cable', 'core_colour', 'series_ohm', 'pullup_ohm', 'pulldown_ohm', 'setting/normal_min_V', 'setting/normal_max_V', 'setting/zone_number', 'setting/zone_name', 'setting/zone_type', 'setting/at_any_hour'],
  },
  { name: 'detectors', collection: 'detectors', columns: ['name', 'part', 'area', 'mount/level', 'mount/x_m', 'mount/y_m', 'mount/z_m', 'mount/bearing_deg', 'mount/tilt_deg'] },
  {
    name: 'cameras', collection: 'cameras',
    columns: ['name', 'part', 'mount/level', 'mount/x_m', 'mount/y_m', 'mount/z_m', 'mount/bearing_deg', 'mount/tilt_deg', 'focal_mm', 'encoded_width_px', 'encoded_height_px', 'powered_by'],
  },
  { name: 'channels', collection: 'channels', columns: ['number', 'unit', 'camera', 'stream', 'recorder', 'live_only'] },
  { name: 'addresses', collection: 'addresses', columns: ['device', 'network', 'address', 'given_by', 'gateway', 'own_password', 'services_complete'] },
  { name: 'cables', collection: 'cables', columns: ['name', 'part', 'length_m', 'joints', 'cores_in_parallel'] },
];

export function tablesOf(fields: SiteFields): Table[] {
  const chosen = kChosen.map(({ name, collection, columns }) => ({ name, collection, columns: columns.map((path) => columnOf(fields, collection, path)).filter((one) => one !== null) }));
  const named = new Set(kChosen.map((one) => one.name));
  const rest = fields
    .of('')
    .filter((field) => field.kind === 'map' && !named.has(field.key) && field.key !== 'parts' && field.key !== 'rulebooks')
    .map((field) => ({ name: field.key, collection: field.key, columns: plainColumns(fields, field.record!) }));
  return [...chosen, ...rest];
}

function columnOf(fields: SiteFields, collection: string, path: string): Column | null {
  const keys = path.split('/');
  const field = fields.at(pointerTo(collection, 'x', ...keys))?.field;
  return field ? { keys, field } : null;
}

/** Every field of an entry that fits a cell, what it is called first. */
function plainColumns(fields: SiteFields, record: string): Column[] {
  const first = ['name', 'number', 'part'];
  const order = (field: Field) => (first.includes(field.key) ? first.indexOf(field.key) : 9);
  return fields
    .of(record)
    .filter((field) => !['object', 'map', 'list'].includes(field.kind))
    .sort((a, b) => order(a) - order(b))
    .map((field) => ({ keys: [field.key], field }));
}
