// The page as a whole: its server, its store, the site that is open, and what the page says to a person.
import { Client, Unreachable, type DemoEntry, type SiteEntry, type Visit } from '../api/client';
import type { JsonObject } from '../document/json';
import { SiteView } from '../document/site_view.svelte';
import { LocalEngine } from '../engine/engine';
import { SiteFields } from '../forms/fields';
import { DeviceStore } from '../offline/store';
import { words } from '../words/words.svelte';

export interface Notice {
  text: string;
  kind: 'note' | 'fault';
}

class Workbench {
  readonly client = new Client('', () => words.language);
  readonly store = new DeviceStore();
  readonly engine = new LocalEngine();
  visit = $state.raw<Visit | null>(null);
  fields = $state.raw<SiteFields | null>(null);
  site = $state.raw<SiteView | null>(null);
  opening = $state<string | null>(null); // the id of the site that is being opened
  openFault = $state<string | null>(null);
  notice = $state.raw<Notice | null>(null);
  #timer: ReturnType<typeof setTimeout> | null = null;

  async start(): Promise<void> {
    this.client.onlogin = () => (this.visit = { login_needed: true, name: null, role: null });
    try {
      this.visit = await this.client.visit();
    } catch {
      this.visit = { login_needed: false, name: null, role: null }; // away: what this device keeps can be read
    }
    await this.#readFields();
    globalThis.addEventListener('online', () => {
      void this.#readFields();
      this.site?.sendNow();
    });
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
    this.opening = id;
    this.openFault = null;
    this.site?.close();
    this.site = null;
    try {
      const site = await SiteView.open(id, this.client, this.store, this.engine);
      if (this.opening === id) this.site = site;
      else site.close();
    } catch (fault) {
      this.openFault = fault instanceof Error ? fault.message : String(fault);
    } finally {
      if (this.opening === id) this.opening = null;
    }
  }
  leave(): void {
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
    this.tell(fault instanceof Error ? fault.message : String(fault), 'fault');
  }
}

export const workbench = new Workbench();
