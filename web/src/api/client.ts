// What the page says to its server (docs/decisions/020). Nothing here knows a formula: answers are passed on as they are.
import type { Json, JsonObject } from '../document/json';
import type { Problem } from '../document/join';
import type { Operation, Patch, Revision } from '../document/patch';
import type { Who } from '../document/rights';

/** The server cannot be reached, or a proxy says that it is not there: worth trying again. */
export class Unreachable extends Error {}

/** Another book or another person is behind this address than the page was opened with: nothing is sent to it from here. */
export class OtherVisit extends Unreachable {}

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
export type Taken = { kind: 'taken'; revision: Revision } | { kind: 'behind'; problems: Problem[] };

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
  book: string; // names the book of this program; empty where it tells none
}
/** Of which book and whose the page is. A visit without a login changes neither: a login that has run out is still that person's page. */
export interface Known extends Who {
  book: string;
}
export interface WorkFile {
  name: string;
  bytes: number;
  address: string;
}
export interface Work {
  number: number;
  site: string | null; // that it is made of
  state: 'waiting' | 'running' | 'done' | 'failed' | 'stopped';
  done: number | null; // share, 0 to 1
  says: string;
  problems: Problem[];
  files: WorkFile[];
}
export interface DemoEntry {
  id: string;
  name: string;
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
  #known: Known | null = null;
  /** Called where the server turns out to be of another book, or somebody else has logged in in another tab. */
  onother: (visit: Visit) => void = () => {};
  /** Called where the server wants somebody to log in. */
  onlogin: () => void = () => {};

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
    if (body !== undefined) headers['Content-Type'] = body instanceof Blob ? body.type || 'application/octet-stream' : kJson;
    if (method !== 'GET' && this.#token) headers['X-Visit-Token'] = this.#token;
    let response: Response;
    try {
      response = await this.fetcher(this.base + path, {
        method,
        headers,
        body: body === undefined || body instanceof Blob ? body : JSON.stringify(body),
        signal,
        credentials: 'same-origin',
        cache: 'no-cache',
      });
    } catch (fault) {
      if (signal?.aborted) throw fault;
      throw new Unreachable(String(fault));
    }
    if (kAwaySoon.includes(response.status)) throw new Unreachable(`status ${response.status}`);
    if (response.status === 401 && path !== '/api/visit') this.onlogin();
    return response;
  }
  /** A request that changes something. The server may have begun anew since and not know this visit: then it is asked who we
   *  are, once, and the request is repeated; every one of them can be. */
  async #change(method: string, path: string, body?: unknown): Promise<Response> {
    const sent = this.#token; // not what is known when the answer comes: another question may have brought the token meanwhile
    const response = await this.#ask(method, path, body);
    if (response.status !== 403) return response;
    if (this.#token === sent) await this.checkVisit();
    return this.#token === sent ? response : this.#ask(method, path, body);
  }
  async #read<T>(method: string, path: string, body?: unknown, signal?: AbortSignal): Promise<T> {
    const reads = method === 'GET' || path.endsWith('/ask') || path.endsWith('/trial');
    const response = await (reads ? this.#ask(method, path, body, signal) : this.#change(method, path, body));
    if (!response.ok) throw new Refused(response.status, await problemsOf(response));
    return (response.status === 204 ? null : await response.json()) as T;
  }

  /** Who is at this page, also without a network; nobody where nobody has to log in. */
  who(): Who {
    return { name: this.#known?.name ?? null, role: this.#known?.role ?? null };
  }
  /** What is known of an earlier visit, or of this one: from now on the page is of this book, and this person's. */
  know(known: Known): void {
    this.#known = known;
  }

  async visit(): Promise<Visit> {
    return this.#seen(await this.#read<JsonObject>('GET', '/api/visit'));
  }
  /** Asks who we are to the server. Throws OtherVisit where it is not what this page was opened with: what it holds is not sent there. */
  async checkVisit(): Promise<void> {
    const known = this.#known;
    const now = await this.visit();
    if (known === null) return;
    const another = now.book !== known.book || (!now.login_needed && now.name !== known.name);
    if (another) {
      this.#token = null; // it would let the edits of this page through under the other name
      this.onother(now);
      throw new OtherVisit('another visit');
    }
    if (!now.login_needed) this.#known = { ...known, role: now.role };
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
      book: typeof said.book === 'string' ? said.book : '',
    };
  }

  /** Keeps a picture in the book; its SHA-256. The same bytes twice are one file. */
  async keepFile(bytes: Blob): Promise<string> {
    return (await this.#read<{ sha256: string }>('POST', '/api/files', bytes)).sha256;
  }

  async sites(): Promise<{ sites: SiteEntry[]; demos: DemoEntry[] }> {
    const said = await this.#read<{ sites: SiteEntry[]; demos?: DemoEntry[] }>('GET', '/api/sites');
    return { sites: said.sites, demos: said.demos ?? [] };
  }
  /** Makes a site: {"demo"}, {"text"}, {"table", "panel", …} or {"empty"}; its id. */
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
    const response = await this.#change('POST', `/api/sites/${encodeURIComponent(site)}/edits`, { edit, why, patch });
    if (response.status === 409) {
      const problems = await problemsOf(response);
      if (problems.some((problem) => problem.code === 'server_edit_behind')) return { kind: 'behind', problems };
      throw new Refused(409, problems);
    }
    if (!response.ok) throw new Refused(response.status, await problemsOf(response));
    const said = (await response.json()) as { revision: Revision };
    return { kind: 'taken', revision: said.revision };
  }

  /** The newest revisions, or those before a number. */
  revisions(site: string, before?: number): Promise<{ revisions: RevisionEntry[]; more: boolean }> {
    return this.#read('GET', `/api/sites/${encodeURIComponent(site)}/revisions${before === undefined ? '' : `?before=${before}`}`);
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
    return { number, site: said.site ?? null, state: said.state ?? 'running', done: said.done ?? null, says: said.says ?? '', problems: said.problems ?? [], files: said.files ?? [] };
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
