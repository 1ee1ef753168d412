// What the page says to its server (docs/decisions/020). Nothing here knows a formula: answers are passed on as they are.
import type { Json, JsonObject } from '../document/json';
import type { Problem } from '../document/join';
import type { Operation, Patch, Revision } from '../document/patch';

/** The server cannot be reached, or a proxy says that it is not there: worth trying again. */
export class Unreachable extends Error {}

/** The server answered and said no: its problems, in words. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly problems: Problem[],
  ) {
    super(problems.map((problem) => problem.text).join(' ') || `status ${status}`);
  }
}

export interface Question {
  command: string;
  [option: string]: unknown;
}
/** An answer as the command prints it with --json (docs/guide/json.md). */
export interface Answer<Results = JsonObject> {
  engine: string;
  format: string;
  version: number;
  site_hash: string | null;
  results: Results;
}

export interface SiteSeen {
  document: Json;
  revision: Revision;
}
export type Taken = { kind: 'taken'; revision: Revision } | { kind: 'behind' };

export interface SiteEntry {
  id: string;
  name: string;
  revision: number;
  who?: string;
  when?: string;
}
export interface RevisionEntry {
  number: number;
  sha256?: string;
  who?: string;
  when?: string;
  why?: string;
  changes?: unknown;
}
export interface Visit {
  login_needed: boolean;
  name: string | null;
  role: string | null;
}
export interface Work {
  number: number;
  state: string;
  done: number | null; // share, 0 to 1
  says: string;
  problems: Problem[];
  file: string | null; // where the made file is fetched
}

export type DrawingKind = 'wiring' | 'plan' | 'picture' | 'discharge';
export interface DrawingAsked {
  of?: string;
  ink?: 'light' | 'dark' | 'black_and_white';
  page?: number;
  volts?: 'found' | 'rest' | 'alarm';
}
export interface Drawing {
  svg: string;
  sheets: number;
}

const kJson = 'application/json';
const kAwaySoon = [502, 503, 504]; // said by a proxy while the program restarts

export class Client {
  #token: string | null = null;

  constructor(
    readonly base = '',
    readonly language: () => string = () => 'en',
    private readonly fetcher: typeof fetch = (...asked) => fetch(...asked),
  ) {}

  /** Where something is fetched by the browser itself. */
  address(path: string): string {
    return this.base + path;
  }

  async #ask(method: string, path: string, body?: unknown, signal?: AbortSignal): Promise<Response> {
    const headers: Record<string, string> = { 'Accept-Language': this.language() };
    if (body !== undefined) headers['Content-Type'] = kJson;
    if (method !== 'GET' && this.#token) headers['X-Visit-Token'] = this.#token;
    let response: Response;
    try {
      response = await this.fetcher(this.base + path, {
        method,
        headers,
        body: body === undefined ? undefined : JSON.stringify(body),
        signal,
        credentials: 'same-origin',
        cache: 'no-cache',
      });
    } catch (fault) {
      if (signal?.aborted) throw fault;
      throw new Unreachable(String(fault));
    }
    if (kAwaySoon.includes(response.status)) throw new Unreachable(`status ${response.status}`);
    return response;
  }
  async #read<T>(method: string, path: string, body?: unknown, signal?: AbortSignal): Promise<T> {
    const response = await this.#ask(method, path, body, signal);
    if (!response.ok) throw new Refused(response.status, await problemsOf(response));
    return (response.status === 204 ? null : await response.json()) as T;
  }

  async visit(): Promise<Visit> {
    return this.#seen(await this.#read<JsonObject>('GET', '/api/visit'));
  }
  async logIn(name: string, password: string): Promise<Visit> {
    return this.#seen(await this.#read<JsonObject>('POST', '/api/visit', { name, password }));
  }
  async logOut(): Promise<void> {
    await this.#read('DELETE', '/api/visit');
    this.#token = null;
  }
  #seen(said: JsonObject): Visit {
    this.#token = typeof said.token === 'string' ? said.token : null;
    return {
      login_needed: said.login_needed === true,
      name: typeof said.name === 'string' ? said.name : null,
      role: typeof said.role === 'string' ? said.role : null,
    };
  }

  async sites(): Promise<SiteEntry[]> {
    return (await this.#read<{ sites: SiteEntry[] }>('GET', '/api/sites')).sites;
  }
  /** Makes a site: {"demo"}, {"text"}, {"table", …} or {"empty"}; its id. */
  async makeSite(from: JsonObject): Promise<{ id: string; notes: Problem[] }> {
    const made = await this.#read<{ id: string; notes?: Problem[] }>('POST', '/api/sites', from);
    return { id: made.id, notes: made.notes ?? [] };
  }
  async site(id: string): Promise<SiteSeen> {
    const response = await this.#ask('GET', `/api/sites/${encodeURIComponent(id)}`);
    if (!response.ok) throw new Refused(response.status, await problemsOf(response));
    const document = (await response.json()) as JsonObject;
    const sha256 = (response.headers.get('ETag') ?? '').replace(/^W\//, '').replaceAll('"', '');
    return { document, revision: { number: Number(document.revision ?? 0), sha256 } };
  }

  /** Sends an edit. The same id sent twice is the same edit once. Throws Refused where the edit itself is at fault. */
  async sendEdit(site: string, edit: string, why: string, patch: Patch): Promise<Taken> {
    const response = await this.#ask('POST', `/api/sites/${encodeURIComponent(site)}/edits`, { edit, why, patch });
    if (response.status === 409) return { kind: 'behind' };
    if (!response.ok) throw new Refused(response.status, await problemsOf(response));
    const said = (await response.json()) as { revision: Revision };
    return { kind: 'taken', revision: said.revision };
  }

  async revisions(site: string): Promise<RevisionEntry[]> {
    return (await this.#read<{ revisions: RevisionEntry[] }>('GET', `/api/sites/${encodeURIComponent(site)}/revisions`)).revisions;
  }
  revision(site: string, number: number): Promise<JsonObject> {
    return this.#read('GET', `/api/sites/${encodeURIComponent(site)}/revisions/${number}`);
  }

  ask<R>(site: string, question: Question, signal?: AbortSignal): Promise<Answer<R>> {
    return this.#read('POST', `/api/sites/${encodeURIComponent(site)}/ask`, question, signal);
  }
  /** The answer as if edited; nothing is kept. */
  trial<R>(site: string, operations: Operation[], question: Question, signal?: AbortSignal): Promise<Answer<R>> {
    return this.#read('POST', `/api/sites/${encodeURIComponent(site)}/trial`, { operations, question }, signal);
  }

  async drawing(site: string, kind: DrawingKind, asked: DrawingAsked, signal?: AbortSignal): Promise<Drawing> {
    const wanted = new URLSearchParams();
    for (const [key, value] of Object.entries(asked)) if (value !== undefined) wanted.set(key, String(value));
    wanted.set('language', this.language());
    const response = await this.#ask('GET', `/api/sites/${encodeURIComponent(site)}/drawings/${kind}?${wanted}`, undefined, signal);
    if (!response.ok) throw new Refused(response.status, await problemsOf(response));
    return { svg: await response.text(), sheets: Number(response.headers.get('X-Sheets') ?? 1) };
  }

  async beginHandover(site: string, wishes: JsonObject): Promise<number> {
    return (await this.#read<{ work: number }>('POST', `/api/sites/${encodeURIComponent(site)}/handover`, wishes)).work;
  }
  async work(number: number): Promise<Work> {
    const said = await this.#read<Partial<Work>>('GET', `/api/work/${number}`);
    return { number, state: said.state ?? 'running', done: said.done ?? null, says: said.says ?? '', problems: said.problems ?? [], file: said.file ?? null };
  }
  async stopWork(number: number): Promise<void> {
    await this.#read('DELETE', `/api/work/${number}`);
  }

  schema(): Promise<JsonObject> {
    return this.#read('GET', '/api/schema');
  }
  parts(): Promise<Answer<{ parts: Record<string, JsonObject> }>> {
    return this.#read('GET', '/api/parts');
  }
  rules(): Promise<Answer<{ rulebooks: Record<string, JsonObject> }>> {
    return this.#read('GET', '/api/rules');
  }
}

async function problemsOf(response: Response): Promise<Problem[]> {
  try {
    const said = (await response.json()) as { problems?: Problem[]; results?: { problems?: Problem[] } };
    return said.problems ?? said.results?.problems ?? [];
  } catch {
    return []; // no text of the house, from a proxy for example: the status is told
  }
}
