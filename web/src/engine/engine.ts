// The engine as the page sees it: there or not, and questions about a document as it stands in the page.
import type { Answer, Question } from '../api/client';
import type { Json } from '../document/json';
import type { AskedOfEngine, SaidByEngine } from './messages';

type WithoutNumber<T> = T extends unknown ? Omit<T, 'n' | 'base'> : never;

export class LocalEngine {
  #worker: Worker | null = null;
  #waiting = new Map<number, (said: SaidByEngine) => void>();
  #count = 0;
  #there: Promise<boolean> | null = null;

  constructor(private readonly base = '') {}

  /** Whether there is an engine to be asked. The first call loads it. */
  there(): Promise<boolean> {
    this.#there ??= this.#say({ kind: 'load' }).then((said) => said.kind === 'ready');
    return this.#there;
  }
  /** Tries again, after it was not to be had (the network is back). */
  forget(): void {
    this.#there = null;
  }

  /** The answer about this document; null where the engine is not there, refuses the document or has stopped. */
  async ask<R>(document: Json, question: Question): Promise<Answer<R> | null> {
    if (!(await this.there())) return null;
    const said = await this.#say({ kind: 'ask', document, question });
    return said.kind === 'answer' ? (said.answer as unknown as Answer<R>) : null;
  }

  #say(asked: WithoutNumber<AskedOfEngine>): Promise<SaidByEngine> {
    if (typeof Worker === 'undefined') return Promise.resolve({ n: 0, kind: 'absent', fault: 'no workers' });
    this.#worker ??= this.#started();
    const n = ++this.#count;
    return new Promise((resolve) => {
      this.#waiting.set(n, resolve);
      this.#worker!.postMessage({ n, base: this.base || location.origin, ...asked });
    });
  }
  #started(): Worker {
    const worker = new Worker(new URL('./engine_worker.ts', import.meta.url), { type: 'module' });
    worker.addEventListener('message', (event: MessageEvent<SaidByEngine>) => {
      this.#waiting.get(event.data.n)?.(event.data);
      this.#waiting.delete(event.data.n);
    });
    worker.addEventListener('error', () => {
      for (const [n, tell] of this.#waiting) tell({ n, kind: 'stopped', fault: 'the worker has stopped' });
      this.#waiting.clear();
      this.#worker = null;
      this.#there = null;
    });
    return worker;
  }
}
