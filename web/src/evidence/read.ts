// Reading evidence: what to look at first, how long its bar is, where it is cured.
import type { Chain, Evidence, LinkName, Proof } from '../api/answers';
import { kLinks } from '../api/answers';
import { isObject, pointerTo, type Json } from '../document/json';
import { entriesOf, pointerOf } from '../document/names';
import { kVerdicts, type Verdict } from '../look/links';

export const rank = (verdict: Verdict) => kVerdicts.indexOf(verdict);

/** Margin over the margin asked for; where none is asked for, over the limit. Null where there are no numbers. */
export function ratio(evidence: Evidence): number | null {
  const { margin, required_margin: asked, limit } = evidence;
  if (margin === null) return null;
  if (asked !== null && asked > 0) return margin / asked;
  return limit !== null && limit !== 0 ? margin / Math.abs(limit) : null;
}

/** What is to be read first comes first: by verdict, then by margin. The order of the program is kept among equals. */
export function byWeight(evidence: readonly Evidence[]): Evidence[] {
  return [...evidence].sort((a, b) => rank(a.verdict) - rank(b.verdict) || (ratio(a) ?? 0) - (ratio(b) ?? 0));
}

export function weakestOf(chain: Chain): Evidence | null {
  return byWeight(chain.links[chain.weakest]?.evidence ?? [])[0] ?? null;
}

/** Weakest chains first; equal ones by the margin of what is weakest, then by number. */
export function chainsByWeight(chains: readonly Chain[]): Chain[] {
  const key = (chain: Chain) => {
    const evidence = weakestOf(chain);
    const broken = kLinks.filter((link) => chain.links[link]?.verdict === 'broken').length;
    return { rank: rank(chain.verdict), broken, ratio: evidence ? (ratio(evidence) ?? 0) : 0 };
  };
  const keyed = chains.map((chain) => ({ chain, key: key(chain) }));
  keyed.sort((a, b) => a.key.rank - b.key.rank || b.key.broken - a.key.broken || a.key.ratio - b.key.ratio || (a.chain.number ?? 1e9) - (b.chain.number ?? 1e9));
  return keyed.map(({ chain }) => chain);
}

/** One check that holds several zones up, told once. */
export interface Cause {
  evidence: Evidence;
  zones: Chain[];
}
/** What is not proven, what holds the most up first. */
export function causesOf(proof: Proof): Cause[] {
  const found = new Map<string, Cause>();
  for (const chain of proof.chains) {
    for (const link of kLinks) {
      for (const evidence of chain.links[link]?.evidence ?? []) {
        if (evidence.verdict === 'proven') continue;
        const key = [evidence.id, evidence.subject, evidence.condition, evidence.says?.text].join('|');
        const cause = found.get(key);
        if (!cause) found.set(key, { evidence, zones: [chain] });
        else if (!cause.zones.includes(chain)) cause.zones.push(chain);
      }
    }
  }
  for (const evidence of proof.site_evidence) {
    const key = [evidence.id, evidence.subject, evidence.condition, evidence.says?.text].join('|');
    if (evidence.verdict !== 'proven' && !found.has(key)) found.set(key, { evidence, zones: [] });
  }
  return [...found.values()].sort((a, b) => rank(a.evidence.verdict) - rank(b.evidence.verdict) || b.zones.length - a.zones.length);
}

/** Where a finding is cured: pointers into the site, what is nearest first. */
export function curedAt(document: Json, evidence: Evidence): string[] {
  const places: string[] = [];
  const add = (pointer: string | null) => {
    if (pointer !== null && pointer !== '' && !places.includes(pointer)) places.push(pointer);
  };
  for (const gap of evidence.gaps) add(gap.pointer);
  if (evidence.link === 'trigger') for (const id of triggersOf(document, evidence.subject)) add(pointerTo('triggers', id));
  if (evidence.link === 'view' || evidence.link === 'sense') for (const id of camerasOf(document, evidence.subject)) add(pointerTo('cameras', id));
  if (evidence.id.startsWith('autonomy') || evidence.id.startsWith('recharge')) {
    for (const [id, battery] of entriesOf(document, 'batteries')) if (battery.supply === evidence.subject) add(pointerTo('batteries', id));
  }
  add(pointerOf(document, evidence.subject));
  return places;
}

export const triggersOf = (document: Json, zone: string) =>
  entriesOf(document, 'triggers').filter(([, trigger]) => trigger.zone === zone).map(([id]) => id);

/** The cameras that a zone's triggers show. */
export function camerasOf(document: Json, zone: string): string[] {
  const channels = isObject(document) && isObject(document.channels) ? document.channels : {};
  const found = entriesOf(document, 'triggers')
    .filter(([, trigger]) => trigger.zone === zone)
    .flatMap(([, trigger]) => {
      const more = Array.isArray(trigger.more_channels) ? trigger.more_channels.map(String) : [];
      const own = entriesOf(document, 'channels').filter(([id, one]) => (id === trigger.channel || one.number === trigger.channel) && (one.unit === trigger.unit || !trigger.unit)).map(([id]) => id);
      return [...own, ...more];
    })
    .map((id) => (isObject(channels[id]) ? channels[id].camera : null));
  return [...new Set(found.filter((one): one is string => typeof one === 'string'))];
}

export const isLink = (text: string | undefined): text is LinkName => kLinks.includes(text as LinkName);
