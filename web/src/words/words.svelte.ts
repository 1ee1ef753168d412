// The page's words. A language is one file here, beside data/messages, where the words of verdicts and links come from.
// What the program itself says arrives in the language that is asked for, and is shown as it is.
import chainDe from '../../../data/messages/de/chain.json';
import chainEn from '../../../data/messages/en/chain.json';
import type { Verdict } from '../look/links';
import type { System } from '../units/show';
import de from './de.json';
import en from './en.json';

export type WordKey = keyof typeof en;
export type Language = 'en' | 'de';
export const kLanguages: Record<Language, string> = { en: 'English', de: 'Deutsch' };
type Ink = 'as_device' | 'light' | 'dark';

const kCatalogues: Record<Language, Record<string, string>> = { en, de };
const kChains: Record<Language, Record<string, { says: string }>> = { en: chainEn, de: chainDe };

function kept(key: string): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}
function keep(key: string, value: string) {
  try {
    localStorage.setItem(key, value);
  } catch {
    // a private window: the choice holds for this page
  }
}

class Words {
  language = $state<Language>('en');
  system = $state<System>('metric');
  ink = $state<Ink>('as_device');

  constructor() {
    const wanted = kept('language') ?? globalThis.navigator?.language?.slice(0, 2);
    this.language = wanted === 'de' ? 'de' : 'en';
    this.system = kept('system') === 'imperial' ? 'imperial' : 'metric';
    const ink = kept('ink');
    this.ink = ink === 'light' || ink === 'dark' ? ink : 'as_device';
  }
  choose(choice: { language?: Language; system?: System; ink?: Ink }) {
    for (const [key, value] of Object.entries(choice)) keep(key, value);
    Object.assign(this, choice);
  }

  say(key: WordKey, filled: Record<string, string | number> = {}): string {
    const text = kCatalogues[this.language][key] ?? en[key] ?? key;
    return text.replace(/\{(\w+)\}/g, (_whole, name: string) => String(filled[name] ?? ''));
  }
  /** The word of something that comes from a closed set; as the file has it where there is no word. */
  named(kind: string, word: string): string {
    const catalogue = kCatalogues[this.language];
    return catalogue[`${kind}.${word}`] ?? (en as Record<string, string>)[`${kind}.${word}`] ?? word.replaceAll('_', ' ');
  }
  verdict(verdict: Verdict): string {
    return kChains[this.language][`verdict_${verdict}`]?.says ?? verdict;
  }
  link(link: string): string {
    return kChains[this.language][`link_${link}`]?.says ?? link;
  }
  get reader() {
    return { language: this.language, system: this.system };
  }
  date(when: string | undefined | null): string {
    if (!when) return '';
    const date = new Date(when);
    return Number.isNaN(date.getTime()) ? when : new Intl.DateTimeFormat(this.language, { dateStyle: 'medium', timeStyle: 'short' }).format(date);
  }
}

export const words = new Words();
export const say = (key: WordKey, filled?: Record<string, string | number>) => words.say(key, filled);
