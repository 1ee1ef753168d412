// The page as a whole: its server, its store, the site that is open, and what the page says to a person.
import { Client, Unreachable, type DemoEntry, type SiteEntry, type Visit } from '../api/client';
import type { JsonObject } from '../document/json';
import { SiteView } from '../document/site_view.svelte';
import { LocalEngine } from '../engine/engine';
import { SiteFields } from '../forms/fields';
import { adoptUnnamed } from '../offline/adopt';
import { askToStay } from '../offline/keep_page';
import { forgetPictures } from '../offline/pictures';
import { DeviceStore, storeOfBook } from '../offline/store';
import { say, words } from '../words/words.svelte';
import { faultWords } from './fault_words';
import { onRemembered, remember, remembered } from './remembered';

export interface Notice {
  text: string;
  kind: 'note' | 'fault';
}

const kVisitPatience_ms = 4000; // a network that swallows requests: then what this device keeps is shown meanwhile

class Workbench {
  readonly client = new Client('', () => words.language);
  readonly engine = new LocalEngine();
  store = new DeviceStore(storeOfBook(remembered().book));
  visit = $state.raw<Visit | null>(null);
  fields = $state.raw<SiteFields | null>(null);
  site = $state.raw<SiteView | null>(null);
  opening = $state<string | null>(null); // the id of the site that is being opened
  openFault = $state<string | null>(null);
  notice = $state.raw<Notice | null>(null);
  stays = $state<boolean | null>(null); // whether the browser has promised to keep what is kept here
  #turn = 0; // of open(): an opening that was left must not come back
  #timer: ReturnType<typeof setTimeout> | null = null;

  async start(): Promise<void> {
    this.client.know(remembered());
    this.client.onlogin = () => this.#ask();
    this.client.onother = (visit) => void this.#settle(visit);
    onRemembered((one) => {
      if (one.locked && !this.visit?.login_needed) this.#ask();
    });
    const asked = this.#askWho().catch(() => this.#away());
    await Promise.race([asked, new Promise((next) => setTimeout(next, kVisitPatience_ms))]);
    if (this.visit === null) this.#away();
    await this.#readFields();
    globalThis.addEventListener('online', () => {
      void this.#askWho().catch(() => {});
      void this.#readFields();
      this.site?.sendNow();
      if (this.openFault && this.visit) this.visit = { ...this.visit }; // the page opens what it is to show once more
    });
  }

  /** Who is here, and of which book the server is. Whoever logged out without the server is logged out there first. */
  async #askWho(): Promise<void> {
    let visit = await this.client.visit();
    const { due } = remembered();
    if (due !== null) {
      if (visit.name === due) {
        await this.client.logOut();
        visit = await this.client.visit();
      }
      remember({ ...remembered(), due: null });
    }
    await this.#settle(visit);
  }
  /** The server is not there: what this device keeps can be read by whom it was kept for, unless they have logged out. */
  #away(): void {
    const { name, role, book, locked } = remembered();
    this.visit = locked ? { login_needed: true, name: null, role: null, book } : { login_needed: false, name, role, book };
  }
  #ask(): void {
    this.visit = { login_needed: true, name: null, role: null, book: remembered().book };
  }

  /** From now on the page is of this book and this person's; what is open of another is closed, and nothing of it is sent. */
  async #settle(visit: Visit): Promise<void> {
    const before = remembered();
    const { book, login_needed } = visit;
    // A login that has run out: it is still their page, until somebody else logs in.
    const { name, role } = login_needed && book === before.book ? before : visit;
    if (name !== before.name || book !== before.book) this.leave();
    this.client.know({ book, name, role });
    remember({ ...before, book, name, role, locked: before.locked && login_needed });
    const wanted = storeOfBook(book);
    if (this.store.name !== wanted) {
      this.store.close();
      this.store = new DeviceStore(wanted);
      const found = await adoptUnnamed(this.store).catch(() => 0);
      if (found > 0) this.tell(say('edits_adopted', { count: found }));
    }
    const same = this.visit && JSON.stringify(this.visit) === JSON.stringify(visit);
    if (!same) this.visit = visit;
    if (!login_needed) void this.#readFields(); // before a login the server does not tell them
  }
  async loggedIn(visit: Visit): Promise<void> {
    await this.#settle(visit);
    this.site?.sendNow();
  }

  /** Edits of who is here that the server has not taken, of all sites. */
  async unsent() {
    const { name } = this.client.who();
    return (await this.store.allEdits().catch(() => [])).filter((edit) => (edit.person ?? null) === name);
  }
  /**
   * Logs out. Sites and answers are taken from this device; edits that were not sent stay for who made them, and are not shown
   * before somebody logs in. Where the server is away this device is locked all the same, and the server told later.
   */
  async logOut(): Promise<void> {
    const { name } = this.client.who();
    const before = remembered();
    this.#ask(); // first: nothing is opened again meanwhile
    this.leave();
    let due: string | null = null;
    try {
      await this.client.logOut();
    } catch (fault) {
      due = name;
      this.tell(fault instanceof Unreachable ? say('log_out_later') : faultWords(fault), 'fault');
    }
    this.client.know({ book: before.book, name: null, role: null });
    remember({ book: before.book, name: null, role: null, locked: true, due });
    await this.store.forgetWhatWasRead().catch((fault) => this.tellFault(fault));
    await forgetPictures().catch(() => {});
  }

  async #readFields(): Promise<void> {
    if (this.fields) return;
    const key = 'schema';
    try {
      const schema = await this.client.schema();
      this.fields = new SiteFields(schema);
      await this.store.keepAnswer({ key, site: '', revision: 0, answer: schema }).catch(() => {});
    } catch {
      const kept = await this.store.answer(key).catch(() => undefined);
      if (kept) this.fields = new SiteFields(kept.answer as JsonObject);
    }
  }

  async open(id: string): Promise<void> {
    if (this.site?.id === id || this.opening === id) return;
    this.leave();
    const turn = this.#turn;
    this.opening = id;
    this.openFault = null;
    try {
      const site = await SiteView.open(id, this.client, this.store, this.engine);
      if (turn !== this.#turn) return site.close();
      this.site = site;
      this.stays = await askToStay();
    } catch (fault) {
      if (turn === this.#turn) this.openFault = faultWords(fault);
    } finally {
      if (turn === this.#turn) this.opening = null;
    }
  }
  leave(): void {
    this.#turn += 1;
    this.opening = null;
    this.site?.close();
    this.site = null;
  }

  /** Sites of the server; without a network those that this device keeps. */
  async sites(): Promise<{ sites: SiteEntry[]; demos: DemoEntry[]; kept: boolean }> {
    try {
      return { ...(await this.client.sites()), kept: false };
    } catch (fault) {
      if (!(fault instanceof Unreachable)) throw fault;
      const kept = await this.store.sites();
      const named = kept.map(({ id, document, revision, seen }) => ({
        id, name: String((document as JsonObject).name ?? id), revision: revision.number, when: seen,
      }));
      return { sites: named, demos: [], kept: true };
    }
  }

  tell(text: string, kind: Notice['kind'] = 'note'): void {
    this.notice = { text, kind };
    if (this.#timer) clearTimeout(this.#timer);
    if (kind === 'note') this.#timer = setTimeout(() => (this.notice = null), 8000);
  }
  tellFault(fault: unknown): void {
    this.tell(faultWords(fault, this.site?.document), 'fault');
  }
}

export const workbench = new Workbench();
