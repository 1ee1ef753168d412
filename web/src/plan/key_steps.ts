// Steps by keys on the plan, joined: a held arrow moves at once on the sheet, and is one edit when the key is let go or rests.
import type { Drag } from './hand.svelte';

const kRest_ms = 600; // between two presses of somebody who goes on; a key repeats much faster

const subject = (drag: Drag) => drag.kind + ('id' in drag ? ` ${drag.id}` : '');

export class KeySteps {
  #drag: Drag | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(
    private readonly show: (drag: Drag | null) => void,
    private readonly done: (drag: Drag) => void,
  ) {}

  /** The thing that moves is to stand there; what moved before is done where it is another. */
  step(drag: Drag): void {
    if (this.#drag && subject(this.#drag) !== subject(drag)) this.end();
    this.#drag = drag;
    this.show(drag);
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.end(), kRest_ms);
  }
  end(): void {
    clearTimeout(this.#timer);
    const drag = this.#drag;
    this.#drag = null;
    if (drag === null) return;
    this.done(drag);
    this.show(null);
  }
}
