// What a field means, in the reader's language. The schema says it in English; another language is a catalogue by the English
// sentence, so that a sentence that was reworded is noticed (tests/words/meanings.test.ts). It is fetched when a page first
// speaks that language: a page in English does not carry it. What the catalogue has not, is said in English.
import { words, type Language } from './words.svelte';

type Catalogue = Record<string, string>;
const kFetched: Partial<Record<Language, () => Promise<{ default: Catalogue }>>> = { de: () => import('./meanings_de.json') };

class Meanings {
  #catalogues = $state.raw<Partial<Record<Language, Catalogue>>>({});

  /** Again where it did not come: the server may be back. */
  async fetch(language: Language): Promise<void> {
    const fetched = kFetched[language];
    if (!fetched || this.#catalogues[language]) return;
    try {
      const catalogue = (await fetched()).default;
      this.#catalogues = { ...this.#catalogues, [language]: catalogue };
    } catch (fault) {
      console.warn('what fields mean is said in English:', fault);
    }
  }
  of(sentence: string): string {
    return this.#catalogues[words.language]?.[sentence] ?? sentence;
  }
}

export const meanings = new Meanings();
