// The mark of a verdict: two long links (src/drawing/verdict_mark.cpp has the same measures). Lengths in widths of wire.
export type Verdict = 'proven' | 'thin' | 'broken' | 'unanswered';
export const kVerdicts: readonly Verdict[] = ['broken', 'unanswered', 'thin', 'proven']; // as they weigh

const kRadius = 2.5;
const kStraight = 4.4;
const kApart = 1.35;
const kBreak = 2.0;
const kClear = 0.3;
const kHair = 0.28;
export const kMarkHeight = 2 * kRadius + 1;

export interface MarkPath {
  d: string;
  width: number;
  dots?: string; // a dash pattern
}
export interface Mark {
  width: number;
  paths: MarkPath[];
}

const radians = (degrees: number) => (degrees * Math.PI) / 180;
const at = (x: number, degrees: number) =>
  `${(x + kRadius * Math.cos(radians(degrees))).toFixed(3)} ${(3 + kRadius * Math.sin(radians(degrees))).toFixed(3)}`;
const arc = `A${kRadius} ${kRadius} 0 0 1`;

/** A link from the middle of its left end to that of its right one, left open between two angles about `x`. */
function open(left: number, right: number, x: number, from: number, to: number): string {
  const [first, second, end] = x === right ? [right, left, 90] : [left, right, 270];
  return `M${at(first, to)}${arc} ${at(first, end)}L${at(second, end)}${arc} ${at(second, end + 180)}L${at(first, end - 180)}${arc} ${at(first, from)}`;
}
const whole = (left: number, right: number) =>
  `M${at(right, -90)}${arc} ${at(right, 90)}L${at(left, 90)}${arc} ${at(left, 270)}Z`;

function made(verdict: Verdict): Mark {
  const a = 0.5 + kRadius;
  const b = a + kStraight;
  const c = b + (verdict === 'broken' ? 2 * kRadius + 1 + kBreak : kApart * kRadius);
  const d = c + kStraight;
  const width = d + kRadius + 0.5;
  const half = (wire: number) => (2 * Math.asin((wire / 2 + kClear) / 2 / kRadius) * 180) / Math.PI;
  const crossing = (Math.acos(kApart / 2) * 180) / Math.PI;
  if (verdict === 'broken') return { width, paths: [{ d: whole(a, b), width: 1 }, { d: whole(c, d), width: 1 }] };
  const wire = verdict === 'thin' ? kHair : 1;
  const under = open(a, b, b, crossing - half(wire), crossing + half(wire));
  const over = open(c, d, c, 180 + crossing - half(1), 180 + crossing + half(1));
  if (verdict !== 'unanswered') return { width, paths: [{ d: under, width: 1 }, { d: over, width: wire }] };
  // Dots only where the first link does not lie: from its upper crossing round to its lower one.
  const dotted = `M${at(c, 270)}L${at(d, 270)}${arc} ${at(d, 450)}L${at(c, 90)}`;
  return { width, paths: [{ d: whole(a, b), width: 1 }, { d: dotted, width: 1, dots: '0 2' }] };
}

export const kMarks: Record<Verdict, Mark> = {
  proven: made('proven'), thin: made('thin'), broken: made('broken'), unanswered: made('unanswered'),
};
