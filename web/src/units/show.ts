// Numbers as people read them: three figures, the unit's prefix, the language's decimal mark; feet where a person wants them.
// Display only: the site file and every answer are metric.

export type System = 'metric' | 'imperial';
export interface Reader {
  language: string;
  system: System;
}

const kWritten: Record<string, string> = {
  ohm: 'Ω', kohm: 'kΩ', Mohm: 'MΩ', pct: '%', degC: '°C', deg: '°', px_per_m: 'px/m', mm2: 'mm²', m2: 'm²', um: 'µm', kbps: 'kbit/s',
  Mbps: 'Mbit/s', bps: 'bit/s', ohm_per_km: 'Ω/km', nF_per_km: 'nF/km', Mohm_km: 'MΩ km', years: 'a', d: 'd', fps: '1/s', factor: '', coefficient: '', exponent: '', plain: '',
};
const kFoot_m = 0.3048;
const kFeet: Record<string, { unit: string; from: (value: number) => number; back: (value: number) => number }> = {
  m: { unit: 'ft', from: (v) => v / kFoot_m, back: (v) => v * kFoot_m },
  m2: { unit: 'ft²', from: (v) => v / kFoot_m ** 2, back: (v) => v * kFoot_m ** 2 },
  px_per_m: { unit: 'px/ft', from: (v) => v * kFoot_m, back: (v) => v / kFoot_m },
  degC: { unit: '°F', from: (v) => v * 1.8 + 32, back: (v) => (v - 32) / 1.8 },
  ohm_per_km: { unit: 'Ω/kft', from: (v) => v * kFoot_m, back: (v) => v / kFoot_m },
};
// Lowest magnitude at which a unit is written with this prefix.
const kPrefixed: Record<string, [number, number, string][]> = {
  V: [[1, 1, 'V'], [0, 1e3, 'mV']],
  A: [[1, 1, 'A'], [1e-3, 1e3, 'mA'], [0, 1e6, 'µA']],
  ohm: [[1e6, 1e-6, 'MΩ'], [1e3, 1e-3, 'kΩ'], [1, 1, 'Ω'], [0, 1e3, 'mΩ']],
  s: [[1, 1, 's'], [0, 1e3, 'ms']],
  bps: [[1e6, 1e-6, 'Mbit/s'], [1e3, 1e-3, 'kbit/s'], [0, 1, 'bit/s']],
};

const kSpaceless = new Set(['°']);

/** The unit as it is written beside a number that stands in a field. */
export function unitWritten(unit: string, system: System): string {
  return (system === 'imperial' ? kFeet[unit]?.unit : undefined) ?? kWritten[unit] ?? unit;
}
/** A number of the file as it stands in a field, and back. */
export const shownIn = (value: number, unit: string, system: System) =>
  system === 'imperial' && kFeet[unit] ? kFeet[unit].from(value) : value;
export const storedFrom = (value: number, unit: string, system: System) =>
  system === 'imperial' && kFeet[unit] ? Number(kFeet[unit].back(value).toPrecision(9)) : value;

export function number(value: number, reader: Reader, figures = 3): string {
  const whole = Math.abs(value) >= 10 ** figures;
  return new Intl.NumberFormat(reader.language, whole ? { maximumFractionDigits: 0 } : { maximumSignificantDigits: figures }).format(value);
}

/** "3.1 V", "53.5 mV", "12 ft". */
export function quantity(value: number, unit: string, reader: Reader, figures = 3): string {
  const feet = reader.system === 'imperial' ? kFeet[unit] : undefined;
  if (feet) return joined(number(feet.from(value), reader, figures), feet.unit);
  const steps = kPrefixed[unit];
  if (steps && value !== 0) {
    const [, factor, written] = steps.find(([from]) => Math.abs(value) >= from)!;
    return joined(number(value * factor, reader, figures), written);
  }
  return joined(number(value, reader, figures), kWritten[unit] ?? unit);
}
const joined = (figure: string, unit: string) => (unit === '' ? figure : kSpaceless.has(unit) ? figure + unit : `${figure}\u00a0${unit}`);

const figure = (value: number) => String(Number(value.toPrecision(9)));
/** How far something may be off: as a number of the file, and as it stands in a field. A difference knows no freezing point. */
const kFahrenheit = 1.8;
const isOffset = (unit: string, system: System) => unit === 'degC' && system === 'imperial';
export const differenceShown = (value: number, unit: string, system: System) => figure(isOffset(unit, system) ? value * kFahrenheit : shownIn(value, unit, system));
export function differenceTyped(text: string, unit: string, system: System): number | null {
  if (!isOffset(unit, system)) return typed(text, unit, system);
  const value = typed(text, 'degC', 'metric');
  return value === null ? null : Number((value / kFahrenheit).toPrecision(9));
}
export const numberShown = (value: number, unit: string, system: System) => figure(shownIn(value, unit, system));

/**
 * The two numbers that a text can mean, as texts without doubt: "5,600" and "1.200" are thousands to some and fractions to others.
 * Null where there is no doubt; of more than one mark only thousands are left.
 */
export function twoWays(text: string): { fraction: string | null; thousands: string } | null {
  const found = /^(-?[1-9]\d{0,2}(?:[.,]\d{3})+)(\D*)$/.exec(text.trim());
  if (!found) return null;
  const [, said, unit] = found as unknown as [string, string, string];
  const marks = said.match(/[.,]/g)!.length;
  return { fraction: marks === 1 ? `${said.replace(',', '.')}0${unit}` : null, thousands: said.replaceAll(/[.,]/g, '') + unit };
}

/** Units before which a prefix is common. In hours and seconds an "m" is minutes to one and milli to the other; nF, mm and kB have theirs. */
const kPrefixable = new Set(['V', 'A', 'ohm', 'W', 'Ah', 'Wh', 'bps', 'ohm_per_km']);

/**
 * A number as a person types it: "5600", "5.6k", "5k6", "12,5", "40 ft", "1/2"... null where it is none.
 * Null also for what can be read in two ways (twoWays).
 * @param unit of the field; a prefix or "ft" and "in" behind the number count where they make sense for it
 */
export function typed(text: string, unit: string, system: System): number | null {
  const said = text.trim().replace(/\u00a0|\s+/g, ' ').replace(',', '.').replace(/Ω|ohms?$/i, '').trim();
  if (said === '' || twoWays(text)) return null;
  const feet = /^(-?\d+(?:\.\d+)?) ?(?:ft|')(?: ?(\d+(?:\.\d+)?) ?(?:in|"))?$/.exec(said);
  if (feet && unit === 'm') return Number(((Number(feet[1]) + Number(feet[2] ?? 0) / 12) * kFoot_m).toPrecision(9));
  if (unit === 'm' && /^-?\d+(\.\d+)? ?m$/.test(said)) return Number(said.replace(/ ?m$/, ''));
  const code = /^(\d+)([RkKM])(\d+)$/.exec(said); // IEC 60062
  if (code && unit === 'ohm') return Number(`${code[1]}.${code[3]}`) * kFactor[code[2]!]!;
  const plain = /^(-?(?:\d+(?:\.\d*)?|\.\d+)(?:e-?\d+)?) ?([µumkKMR]?)$/i.exec(said);
  if (!plain) return null;
  const factor = plain[2] === '' ? 1 : kPrefixable.has(unit) ? kFactor[plain[2]!] : null;
  if (factor === null || factor === undefined) return null;
  const value = Number(plain[1]) * factor;
  return plain[2] === '' ? storedFrom(value, unit, system) : Number(value.toPrecision(12));
}
const kFactor: Record<string, number> = { R: 1, k: 1e3, K: 1e3, M: 1e6, m: 1e-3, u: 1e-6, µ: 1e-6 };
