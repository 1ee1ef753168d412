// The engine as the page sees it: there or not, and questions about a document as it stands in the page. One question is in the
// worker at a time, the others wait here: the engine cannot be stopped while it computes, but what nobody wants any more is never begun.
import type { Answer, Question } from '../api/client';
import type { Json } from '../document/json';
import type { AskedOfEngine, SaidByEngine } from './messages';

type WithoutNumber<T> = T extends unknown ? Omit<T, 'n' | 'base'> : never;
type Asked = WithoutNumber<AskedOfEngine>;
interface Waiting {
  asked: Asked;
  signal?: AbortSignal;
  tell: (said: SaidByEngine) => void;
}

export class LocalEngine {
  #worker: Worker | null = null;
  #asked: { n: number; waiting: Waiting } | null = null; // what the worker is busy with
  #waiting: Waiting[] = [];
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

  /** The answer about this document; null where the engine is not there, refuses the document, has stopped, or nobody waits for it any more. */
  async ask<R>(document: Json, question: Question, signal?: AbortSignal): Promise<Answer<R> | null> {
    if (!(await this.there()) || signal?.aborted) return null;
    const said = await this.#say({ kind: 'ask', document, question }, signal);
    return said.kind === 'answer' ? (said.answer as unknown as Answer<R>) : null;
  }

  #say(asked: Asked, signal?: AbortSignal): Promise<SaidByEngine> {
    if (typeof Worker === 'undefined') return Promise.resolve({ n: 0, kind: 'absent', fault: 'no workers' });
    return new Promise((tell) => {
      this.#waiting.push({ asked, signal, tell });
      this.#next();
    });
  }
  /** Hands the worker the next question that somebody still waits for. */
  #next(): void {
    while (this.#asked === null) {
      const waiting = this.#waiting.shift();
      if (!waiting) return;
      if (waiting.signal?.aborted) {
        waiting.tell({ n: 0, kind: 'given_up' });
        continue;
      }
      this.#worker ??= this.#started();
      const n = ++this.#count;
      this.#asked = { n, waiting };
      this.#worker.postMessage({ n, base: this.base || location.origin, ...waiting.asked });
    }
  }
  #said(said: SaidByEngine): void {
    if (this.#asked?.n !== said.n) return;
    const { waiting } = this.#asked;
    this.#asked = null;
    waiting.tell(said);
    this.#next();
  }
  #started(): Worker {
    const worker = new Worker(new URL('./engine_worker.ts', import.meta.url), { type: 'module' });
    worker.addEventListener('message', (event: MessageEvent<SaidByEngine>) => this.#said(event.data));
    worker.addEventListener('error', () => {
      const all = [...(this.#asked ? [this.#asked.waiting] : []), ...this.#waiting];
      this.#asked = this.#worker = this.#there = null;
      this.#waiting = [];
      for (const { tell } of all) tell({ n: 0, kind: 'stopped', fault: 'the worker has stopped' });
    });
    return worker;
  }
}
