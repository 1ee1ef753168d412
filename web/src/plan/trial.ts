// What is seen and not seen while something moves under the hand: one question on its way at a time, always the newest
// place next; what is older than the newest answer is dropped.
import { Unreachable, type Question } from '../api/client';
import type { SiteView } from '../document/site_view.svelte';
import { applyOperations, type Operation } from '../document/patch';

export interface Tried<R> {
  results: R;
  operations: Operation[];
}

export class LatestTrial<R> {
  #next: { operations: Operation[]; question: Question } | null = null;
  #running = false;
  #ended = false;

  constructor(
    private readonly site: Pick<SiteView, 'trial' | 'engine' | 'document'>,
    private readonly tell: (tried: Tried<R>) => void,
  ) {}

  try(operations: Operation[], question: Question): void {
    this.#next = { operations, question };
    this.#ended = false;
    void this.#run();
  }
  /** Nothing moves any more: answers that are still on their way are not told. */
  end(): void {
    this.#next = null;
    this.#ended = true;
  }

  async #run(): Promise<void> {
    if (this.#running) return;
    this.#running = true;
    while (this.#next !== null) {
      const { operations, question } = this.#next;
      this.#next = null;
      const results = await this.#answer(operations, question);
      if (results && !this.#ended) this.tell({ results, operations });
    }
    this.#running = false;
  }
  async #answer(operations: Operation[], question: Question): Promise<R | null> {
    try {
      const answer = await this.site.trial<R & { problems?: unknown[] }>(operations, question);
      return answer.results.problems ? null : answer.results;
    } catch (fault) {
      if (!(fault instanceof Unreachable)) return null; // a place where nothing can stand: the last answer stays, and the edit will say why
      const here = await this.site.engine.ask<R & { problems?: unknown[] }>(applyOperations(this.site.document, operations), question);
      return here && !here.results.problems ? here.results : null;
    }
  }
}
