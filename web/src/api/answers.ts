// The answers that screens read (data/schema/results.schema.json), as far as they read them.
import type { Problem } from '../document/join';
import type { Patch } from '../document/patch';
import type { Verdict } from '../look/links';

export type LinkName = 'sense' | 'loop' | 'trigger' | 'view' | 'deliver';
export const kLinks: readonly LinkName[] = ['sense', 'loop', 'trigger', 'view', 'deliver'];

export interface CornerValue {
  pointer: string;
  value: number;
  unit: string;
}
export interface Gap {
  pointer: string;
  reason: string;
}
export interface Evidence {
  id: string;
  subject: string;
  link: LinkName;
  verdict: Verdict;
  quantity: string;
  unit: string;
  value: number | null;
  bound: number | null;
  nominal: number | null;
  limit: number | null;
  margin: number | null;
  required_margin: number | null;
  kind: 'exact' | 'bounded';
  condition: string;
  corner: CornerValue[];
  limit_source: string;
  limit_verified: boolean;
  margin_source: string;
  margin_verified: boolean;
  origin: string;
  gaps: Gap[];
  says: Problem | null;
  remedies: Problem[];
}
export interface Chain {
  zone: string;
  number: number | null;
  name: string | null;
  verdict: Verdict;
  weakest: LinkName;
  links: Partial<Record<LinkName, { verdict: Verdict; evidence: Evidence[] }>>;
}
export interface Proof {
  all_proven: boolean;
  links: LinkName[];
  counts: Record<Verdict, number>;
  chains: Chain[];
  site_evidence: Evidence[];
  without_chain: { zone: string; name?: string | null; number?: number | null }[];
  problems?: Problem[];
}
export interface Remedy {
  number: number;
  kind: string;
  says: Problem;
  verdict: Verdict;
  decisive: Evidence;
  improves: { zone: string; link: LinkName; from: Verdict; to: Verdict }[];
  cost: { minutes: number | null; money: number | null; currency: string; parts: { part: string; count: number; unit: string }[]; work: { task: string; count: number }[] };
  patch: Patch;
}
export interface Finding {
  subject: string;
  link: LinkName;
  verdict: Verdict;
  zones: string[];
  evidence: Evidence[];
  tried: number;
  remedies: Remedy[];
  refused: { because: string | Problem }[];
}
export interface Remedies {
  findings: Finding[];
  unanswered: number;
}
export interface Point {
  x_m: number;
  y_m: number;
}
export interface Patch2D {
  number?: number;
  area_m2: number;
  level: string;
  outlines: Point[][];
  causes?: unknown[];
}
