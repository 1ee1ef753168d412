// The open site as screens see it: its document, what is proven of it, and answers to their questions. Every answer knows
// of which state it is; one of an older state is shown as such until the new one is there.
import { untrack } from 'svelte';
import type { Answer, Client, Drawing, DrawingAsked, DrawingKind, Question } from '../api/client';
import { Refused, Unreachable } from '../api/client';
import type { Chain, LinkName, Proof } from '../api/answers';
import type { LocalEngine } from '../engine/engine';
import { keepAhead } from '../offline/ahead';
import { isAnswerTo, type DeviceStore } from '../offline/store';
import { kVerdicts } from '../look/links';
import type { Edit } from './join';
import { pointerTo, type Json } from './json';
import { Live } from './live';
import { OpenSite, type Saving } from './open_site';
import { setting, type Operation, type Revision } from './patch';

export type By = 'server' | 'engine' | 'kept'; // who answered: kept is what this device has from before
export interface Judged<R> {
  results: R;
  of: Json; // the document that it is about
  by: By;
  revision: number | null; // null: the server has another state than this page shows, and the page fetches it
  language: string; // of its sentences
}
export interface Asked<R> {
  readonly now: Judged<R> | null;
  readonly fresh: boolean; // it is about the document as it stands
  readonly busy: boolean;
  readonly fault: string | null;
}
export interface Colleague {
  name: string | null;
  pages: number;
}

/** Links that the engine in the page judges at once after each edit; the rest comes from the server. */
const kAtOnce: LinkName[] = ['loop', 'trigger'];
const kQuiet_ms = 30;
const kAheadFirst_ms = 1500; // after the first proof, what is read offline is fetched
const kAheadLater_ms = 20_000; // after an edit, once nothing has happened for a while

export class SiteView {
  document = $state.raw<Json>({});
  revision = $state.raw<Revision>({ number: 0, sha256: '' });
  edits = $state.raw<readonly Edit[]>([]);
  saving = $state.raw<Saving>('saved');
  kept = $state(true);
  seen = $state<string | null>(null);
  steps = $state(0); // grows with every edit: undo and redo are looked at anew
  colleagues = $state.raw<Colleague[]>([]);
  proof = $state.raw<Judged<Proof> | null>(null);
  proving = $state(false);
  proofFault = $state<string | null>(null);
  keptAhead = $state(false); // everything that is read without a network is on this device, of the revision as it is
  #site!: OpenSite;
  #live: Live | null = null;
  #program: string | null = null; // version of the program that the server has answered with
  #unwatch: () => void = () => {};
  #proof: AbortController | null = null;
  #proofTimer: ReturnType<typeof setTimeout> | null = null;
  #ahead: AbortController | null = null;
  #aheadTimer: ReturnType<typeof setTimeout> | null = null;

  private constructor(
    readonly id: string,
    readonly client: Client,
    readonly store: DeviceStore,
    readonly engine: LocalEngine,
  ) {}

  static async open(id: string, client: Client, store: DeviceStore, engine: LocalEngine): Promise<SiteView> {
    const view = new SiteView(id, client, store, engine);
    view.#site = await OpenSite.open(id, client, store, (told) => {
      const changed = view.document !== told.document;
      const arrived = view.saving !== 'saved' && told.saving === 'saved';
      Object.assign(view, { document: told.document, revision: told.revision, edits: told.edits, saving: told.saving, kept: told.kept, seen: told.seen });
      if (changed || (arrived && view.proof?.by !== 'server')) view.#proveSoon();
    });
    view.#proveSoon();
    void view.#showKeptProof();
    view.#listen();
    view.#watchLanguage();
    return view;
  }

  close(): void {
    this.#site.close();
    this.#live?.close();
    this.#unwatch();
    this.#stopProof();
    this.#stopAhead();
  }

  // ---- Changing ------------------------------------------------------------------------------------------------------

  async edit(why: string, operations: Operation[]): Promise<void> {
    await this.#site.edit(why, operations);
    this.steps += 1;
  }
  /** Makes a place hold a value; undefined takes it out. */
  set(why: string, pointer: string, value: Json | undefined): Promise<void> {
    return this.edit(why, setting(this.document, pointer, value));
  }
  get history() {
    void this.steps;
    void this.document;
    return this.#site.history;
  }
  stepBack(which: 'undo' | 'redo') {
    return which === 'undo' ? this.#site.undoStep() : this.#site.redoStep();
  }
  async step(which: 'undo' | 'redo', why: string): Promise<void> {
    const step = this.stepBack(which);
    if (!step) return;
    await this.#site.edit(why, step.operations, which);
    this.steps += 1;
  }
  decide(edit: string, chosen: ReadonlyMap<string, 'mine' | 'theirs'>) {
    return this.#site.decide(edit, chosen);
  }
  retry(edit: string) {
    return this.#site.retry(edit);
  }
  withdraw(edit: string) {
    return this.#site.withdraw(edit);
  }
  sendNow(): void {
    this.engine.forget();
    this.#live?.again();
    this.#site.noticed(Number.MAX_SAFE_INTEGER);
  }

  // ---- Answers -------------------------------------------------------------------------------------------------------

  /**
   * The answer to a question about the document as it stands: by the server where it has all edits, else by the engine here, else
   * what this device has kept. Throws Refused where the question itself is at fault.
   */
  async ask<R>(question: Question, signal?: AbortSignal): Promise<Judged<R> | null> {
    const of = this.document;
    const language = this.client.language();
    const key = this.#keyOf(question);
    if (this.#serverHasAll()) {
      try {
        const { revision } = this;
        const answer = await this.client.ask<R>(this.id, question, signal);
        this.#refuse(answer);
        return { results: answer.results, by: 'server', language, ...this.#stateOf(answer, of, revision, key) };
      } catch (fault) {
        if (!(fault instanceof Unreachable)) throw fault;
      }
    }
    const here = await this.engine.ask<R>(of, question, signal);
    if (here) {
      this.#refuse(here);
      return { results: here.results, of, by: 'engine', revision: this.revision.number, language };
    }
    const kept = await this.store.answer(key).catch(() => undefined);
    if (!kept) return null;
    const answer = kept.answer as Answer<R>;
    return { results: answer.results, of: isAnswerTo(kept, this.revision, this.#program ?? undefined) && this.edits.length === 0 ? of : null, by: 'kept', revision: kept.revision, language };
  }
  /**
   * Which state an answer of the server is about: by the hash that it carries, since the site may have changed there unseen (another
   * program has written into the book). Such an answer is not one about what the page shows; what the server has is fetched.
   */
  #stateOf(answer: Answer<unknown>, of: Json, asked: Revision, key: string): { of: Json; revision: number | null } {
    this.#program = answer.engine;
    const arrived = this.#serverHasAll() && answer.site_hash === this.revision.sha256;
    if (answer.site_hash !== asked.sha256 && !arrived) {
      this.#site.noticed(Number.MAX_SAFE_INTEGER);
      return { of: null, revision: null };
    }
    const { number } = arrived ? this.revision : asked;
    void this.store.keepAnswer({ key, site: this.id, revision: number, answer }).catch(() => {});
    return { of: arrived ? this.document : of, revision: number };
  }
  #keyOf = (question: Question) => `${this.id} ${this.client.language()} ${JSON.stringify(question)}`;
  #serverHasAll(): boolean {
    return !this.edits.some((edit) => edit.state === 'waiting') && this.saving !== 'offline';
  }
  #refuse(answer: Answer<unknown>): void {
    const { problems } = answer.results as { problems?: { severity?: string }[] };
    const errors = (answer.results as { command?: string }).command === 'check' ? [] : problems;
    if (errors && errors.length > 0) throw new Refused(422, errors as never);
  }

  /** Asks again whenever the document changes. To be called while a component is made. */
  asked<R>(question: () => Question | null): Asked<R> {
    let now = $state.raw<Judged<R> | null>(null);
    let busy = $state(false);
    let fault = $state<string | null>(null);
    let last = '';
    $effect(() => {
      const asking = question();
      void this.document;
      void this.saving;
      void this.client.language();
      if (!asking) return;
      if (last !== JSON.stringify(asking)) now = null;
      last = JSON.stringify(asking);
      const stop = new AbortController();
      busy = true;
      const wait = setTimeout(async () => {
        try {
          const answer = await this.ask<R>(asking, stop.signal);
          if (stop.signal.aborted) return;
          if (answer) now = answer;
          fault = null;
        } catch (problem) {
          if (!stop.signal.aborted) fault = problem instanceof Error ? problem.message : String(problem);
        } finally {
          if (!stop.signal.aborted) busy = false;
        }
      }, 60);
      return () => {
        clearTimeout(wait);
        stop.abort();
      };
    });
    const fresh = () => now !== null && now.of === this.document && now.language === this.client.language();
    return {
      get now() { return now; },
      get fresh() { return fresh(); },
      get busy() { return busy; },
      get fault() { return fault; },
    };
  }

  get proofFresh(): boolean {
    return this.proof !== null && this.proof.of === this.document && this.proof.language === this.client.language();
  }

  trial<R>(operations: Operation[], question: Question, signal?: AbortSignal): Promise<Answer<R>> {
    return this.client.trial<R>(this.id, operations, question, signal);
  }

  /** A drawing of the site as the server has it; without a network the one that this device has kept. */
  async drawing(kind: DrawingKind, asked: DrawingAsked, signal?: AbortSignal): Promise<Drawing & { kept: boolean }> {
    const key = `${this.id} ${this.client.language()} drawing ${kind} ${JSON.stringify(asked)}`;
    try {
      const drawn = await this.client.drawing(this.id, kind, asked, signal);
      void this.store.keepAnswer({ key, site: this.id, revision: this.revision.number, answer: drawn }).catch(() => {});
      return { ...drawn, kept: false };
    } catch (fault) {
      if (!(fault instanceof Unreachable)) throw fault;
      const kept = await this.store.answer(key).catch(() => undefined);
      if (!kept) throw fault;
      return { ...(kept.answer as Drawing), kept: true };
    }
  }

  #stopAhead(): void {
    this.#ahead?.abort();
    if (this.#aheadTimer) clearTimeout(this.#aheadTimer);
    this.keptAhead = false;
  }
  #aheadBefore = false;
  #keepAheadSoon(): void {
    this.#stopAhead();
    const { signal } = (this.#ahead = new AbortController());
    const wait = this.#aheadBefore ? kAheadLater_ms : kAheadFirst_ms;
    this.#aheadBefore = true;
    this.#aheadTimer = setTimeout(async () => {
      const all = await keepAhead(this, signal);
      if (!signal.aborted) this.keptAhead = all;
    }, wait);
  }
  /** What this device has of an earlier visit is shown, as what it is, until the proof of now is there. */
  async #showKeptProof(): Promise<void> {
    const language = this.client.language();
    const kept = await this.store.answer(this.#keyOf({ command: 'prove' })).catch(() => undefined);
    if (kept && this.proof === null) this.proof = { results: (kept.answer as Answer<Proof>).results, of: null, by: 'kept', revision: kept.revision, language };
  }
  #stopProof(): void {
    this.#proof?.abort();
    if (this.#proofTimer) clearTimeout(this.#proofTimer);
  }
  /** Proves anew once nothing has happened for a moment; what is being proven of an older state is given up. */
  #proveSoon(): void {
    this.#stopProof();
    this.#stopAhead();
    this.proving = true;
    this.#proof = new AbortController();
    const { signal } = this.#proof;
    this.#proofTimer = setTimeout(() => void this.#prove(signal), kQuiet_ms);
  }
  /** The whole proof, and before it is there what the engine here says at once of loops and triggers. */
  async #prove(signal: AbortSignal): Promise<void> {
    const of = this.document;
    try {
      if (this.proof && this.proof.of !== of) void this.#atOnce(of, signal);
      const whole = await this.ask<Proof>({ command: 'prove' }, signal);
      if (signal.aborted) return;
      if (whole) this.proof = whole;
      this.proofFault = null;
      if (whole?.by === 'server' && whole.of !== null) this.#keepAheadSoon();
    } catch (fault) {
      if (!signal.aborted) this.proofFault = fault instanceof Error ? fault.message : String(fault);
    } finally {
      if (!signal.aborted) this.proving = false;
    }
  }
  async #atOnce(of: Json, signal: AbortSignal): Promise<void> {
    const part = await this.engine.ask<Proof>(of, { command: 'prove', links: kAtOnce }, signal);
    const before = this.proof;
    if (!part || signal.aborted || !before || before.of === of || part.results.problems) return;
    this.proof = { ...before, results: { ...before.results, chains: before.results.chains.map((chain) => withLinks(chain, part.results.chains)) } };
  }

  // ---- Others --------------------------------------------------------------------------------------------------------

  #listen(): void {
    if (typeof EventSource === 'undefined') return;
    this.#live = new Live(() => new EventSource(this.client.address(`/api/sites/${encodeURIComponent(this.id)}/live`)), {
      revision: (number) => this.#site.noticed(number),
      // One's own page is among them; a page of somebody without a name is told by its number.
      people: (people) => (this.colleagues = people.filter((one) => one.name !== null || one.pages > 1).map(({ name, pages }) => ({ name, pages }))),
      open: () => void this.#site.send(),
    });
  }
  /** Sentences come in the language that they were asked for in: with another one everything is asked again. */
  #watchLanguage(): void {
    let before = this.client.language();
    this.#unwatch = $effect.root(() => {
      $effect(() => {
        const now = this.client.language();
        if (now === before) return;
        before = now;
        untrack(() => this.#proveSoon());
      });
    });
  }

  pointer(...keys: (string | number)[]): string {
    return pointerTo(...keys);
  }
}

function withLinks(chain: Chain, news: Chain[]): Chain {
  const fresh = news.find((one) => one.zone === chain.zone);
  if (!fresh) return chain;
  const links = { ...chain.links, ...fresh.links };
  const all = Object.values(links).map((link) => link.verdict);
  const verdict = kVerdicts.find((one) => all.includes(one)) ?? 'unanswered';
  const weakest = (Object.keys(links) as LinkName[]).find((link) => links[link]!.verdict === verdict) ?? chain.weakest;
  return { ...chain, links, verdict, weakest: links[chain.weakest]?.verdict === verdict ? chain.weakest : weakest };
}
