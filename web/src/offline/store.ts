// What this device keeps: sites as they were last seen, edits that the server has not taken, answers and drawings to be
// read without a network. IndexedDB, which a page has on plain http as well. An edit is kept before it is sent, and
// forgotten when the server has taken it or a person has withdrawn it: a tab that is killed in between loses nothing.
import type { Edit } from '../document/join';
import { isObject, type Json } from '../document/json';
import type { Revision } from '../document/patch';

export interface KeptSite {
  id: string;
  document: Json;
  revision: Revision;
  seen: string; // when, ISO 8601
}

export interface KeptAnswer {
  key: string;
  site: string;
  revision: number;
  answer: unknown;
  sha256?: string; // of the site file that it is about
  engine?: string; // the version that gave it
}

/** Whether an answer is about this state of the site. A number alone does not say: another book, or one that was brought back from a copy, has the same numbers. */
export function isAnswerTo(kept: KeptAnswer, revision: Revision, engine?: string): boolean {
  const said = isObject(kept.answer as Json) ? (kept.answer as { site_hash?: unknown; engine?: unknown }) : {};
  const sha256 = kept.sha256 ?? said.site_hash;
  const by = kept.engine ?? said.engine;
  return typeof sha256 === 'string' && sha256 !== '' && sha256 === revision.sha256 && (engine === undefined || by === engine);
}

/** The store of a book. One page can meet several books at one address; a program that tells no book has the unnamed store. */
export const kUnnamed = 'zoneproof';
export const storeOfBook = (book: string) => (book === '' ? kUnnamed : `${kUnnamed}-${book}`);

const kVersion = 1;

function done<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

/** The order in which edits were made on this device, in whichever tab. */
export const inOrder = (a: Edit, b: Edit) => a.order - b.order || (a.made < b.made ? -1 : 1);

function ended(transaction: IDBTransaction): Promise<void> {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = transaction.onerror = () => reject(transaction.error);
  });
}

export class DeviceStore {
  #database: Promise<IDBDatabase>;
  #tabs: BroadcastChannel | null;
  #listeners = new Set<(site: string) => void>();
  #answersOnTheirWay = new Set<Promise<void>>();
  #answersLost = 0;

  constructor(readonly name = kUnnamed) {
    this.#tabs = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel(`${name}-store`);
    if (this.#tabs)
      this.#tabs.onmessage = (event: MessageEvent<{ site: string }>) => {
        for (const listener of this.#listeners) listener(event.data.site);
      };
    this.#database = new Promise((resolve, reject) => {
      const opening = indexedDB.open(name, kVersion);
      opening.onupgradeneeded = () => {
        const database = opening.result;
        database.createObjectStore('sites', { keyPath: 'id' });
        database.createObjectStore('edits', { keyPath: 'id' }).createIndex('site', 'site');
        database.createObjectStore('answers', { keyPath: 'key' }).createIndex('site', 'site');
      };
      opening.onsuccess = () => {
        opening.result.onversionchange = () => opening.result.close(); // a newer page is opening it: do not stand in the way
        resolve(opening.result);
      };
      opening.onerror = () => reject(opening.error);
    });
    this.#database.catch(() => {}); // whoever uses the store hears of it
  }

  async #change<T>(store: string, action: (entries: IDBObjectStore) => T): Promise<T> {
    const transaction = (await this.#database).transaction(store, 'readwrite', { durability: 'strict' });
    const completed = ended(transaction);
    const result = action(transaction.objectStore(store));
    await completed;
    return result;
  }
  async #read<T>(store: string, action: (entries: IDBObjectStore) => IDBRequest<T>): Promise<T> {
    return done(action((await this.#database).transaction(store).objectStore(store)));
  }

  site(id: string): Promise<KeptSite | undefined> {
    return this.#read('sites', (entries) => entries.get(id));
  }
  sites(): Promise<KeptSite[]> {
    return this.#read('sites', (entries) => entries.getAll());
  }

  /** Resolves once the edit is on the disk. */
  async keepEdit(edit: Edit): Promise<void> {
    await this.#change('edits', (entries) => entries.put(edit));
    this.#wrote(edit.site);
  }
  /** The edits of a site that wait here, in the order in which they were made. */
  async edits(site: string): Promise<Edit[]> {
    return (await this.look(site)).edits;
  }
  /** The edits of all sites. */
  allEdits(): Promise<Edit[]> {
    return this.#read('edits', (entries) => entries.getAll());
  }
  /** A site with its edits, as they belong together. */
  async look(id: string): Promise<{ site: KeptSite | undefined; edits: Edit[] }> {
    const transaction = (await this.#database).transaction(['sites', 'edits']);
    const [site, edits] = await Promise.all([
      done<KeptSite | undefined>(transaction.objectStore('sites').get(id)),
      done<Edit[]>(transaction.objectStore('edits').index('site').getAll(id)),
    ]);
    return { site, edits: edits.sort(inOrder) };
  }
  /**
   * Keeps a site and its edits in one step: a tab that is killed leaves all of it or nothing. What another tab has brought
   * here since is not written over: a newer state of the site stays, and an edit that it has forgotten stays forgotten.
   * @param known edits that were on the disk when this tab looked last
   */
  async keepState(id: string, site: KeptSite | null, gone: readonly string[], edits: readonly Edit[], known: ReadonlySet<string>): Promise<void> {
    const transaction = (await this.#database).transaction(['sites', 'edits'], 'readwrite', { durability: 'strict' });
    const completed = ended(transaction);
    const sites = transaction.objectStore('sites');
    const all = transaction.objectStore('edits');
    if (site)
      sites.get(id).onsuccess = (event) => {
        const there = (event.target as IDBRequest<KeptSite | undefined>).result;
        if (!there || there.seen <= site.seen || there.revision.number < site.revision.number) sites.put(site);
      };
    for (const one of gone) all.delete(one);
    for (const edit of edits) {
      all.getKey(edit.id).onsuccess = (event) => {
        if ((event.target as IDBRequest<IDBValidKey | undefined>).result !== undefined || !known.has(edit.id)) all.put(edit);
      };
    }
    await completed;
    this.#wrote(id);
  }

  /** Tells of what other tabs of this device have kept of a site; what this returns ends it. */
  onOthers(site: string, listener: () => void): () => void {
    const heard = (written: string) => {
      if (written === site) listener();
    };
    this.#listeners.add(heard);
    return () => void this.#listeners.delete(heard);
  }
  #wrote(site: string): void {
    this.#tabs?.postMessage({ site });
  }

  /** After somebody has logged out: what can be fetched again is taken from this device. Edits that were not sent stay. */
  async forgetWhatWasRead(): Promise<void> {
    const transaction = (await this.#database).transaction(['sites', 'answers'], 'readwrite', { durability: 'strict' });
    const completed = ended(transaction);
    transaction.objectStore('sites').clear();
    const answers = transaction.objectStore('answers');
    answers.index('site').openKeyCursor().onsuccess = (event) => {
      const at = (event.target as IDBRequest<IDBCursor | null>).result;
      if (at === null) return;
      if (at.key !== '') answers.delete(at.primaryKey); // of no site: the schema, which says nothing of anybody
      at.continue();
    };
    await completed;
  }
  close(): void {
    this.#tabs?.close();
    this.#listeners.clear();
    void this.#database.then((database) => database.close(), () => {});
  }

  keepAnswer(answer: KeptAnswer): Promise<void> {
    const keeping = this.#change('answers', (entries) => void entries.put(answer));
    const watched = keeping.catch(() => void (this.#answersLost += 1)).finally(() => this.#answersOnTheirWay.delete(watched));
    this.#answersOnTheirWay.add(watched);
    return keeping;
  }
  /** Waits for the answers that are being kept; how many could not be, of all since this page began. */
  async answersLost(): Promise<number> {
    await Promise.all(this.#answersOnTheirWay);
    return this.#answersLost;
  }
  answer(key: string): Promise<KeptAnswer | undefined> {
    return this.#read('answers', (entries) => entries.get(key));
  }
}
