// What this device keeps: sites as they were last seen, edits that the server has not taken, answers and drawings to be
// read without a network. IndexedDB, which a page has on plain http as well. An edit is kept before it is sent, and
// forgotten when the server has taken it or a person has withdrawn it: a tab that is killed in between loses nothing.
import type { Edit } from '../document/join';
import type { Json } from '../document/json';
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
}

const kVersion = 1;

function done<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

export class DeviceStore {
  #database: Promise<IDBDatabase>;

  constructor(name = 'zoneproof') {
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
    const completed = new Promise<void>((resolve, reject) => {
      transaction.oncomplete = () => resolve();
      transaction.onabort = transaction.onerror = () => reject(transaction.error);
    });
    const result = action(transaction.objectStore(store));
    await completed;
    return result;
  }
  async #read<T>(store: string, action: (entries: IDBObjectStore) => IDBRequest<T>): Promise<T> {
    return done(action((await this.#database).transaction(store).objectStore(store)));
  }

  async keepSite(site: KeptSite): Promise<void> {
    await this.#change('sites', (entries) => entries.put(site));
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
  }
  async forgetEdit(id: string): Promise<void> {
    await this.#change('edits', (entries) => entries.delete(id));
  }
  /** The edits of a site that wait here, in the order in which they were made. */
  async edits(site: string): Promise<Edit[]> {
    const found = await this.#read<Edit[]>('edits', (entries) => entries.index('site').getAll(site));
    return found.sort((a, b) => a.order - b.order || (a.made < b.made ? -1 : 1));
  }
  /** Replaces the edits of a site in one step: after a join all of them are right, or none is changed. */
  async replaceEdits(gone: readonly string[], edits: readonly Edit[]): Promise<void> {
    await this.#change('edits', (entries) => {
      for (const id of gone) entries.delete(id);
      for (const edit of edits) entries.put(edit);
    });
  }

  async keepAnswer(answer: KeptAnswer): Promise<void> {
    await this.#change('answers', (entries) => entries.put(answer));
  }
  answer(key: string): Promise<KeptAnswer | undefined> {
    return this.#read('answers', (entries) => entries.get(key));
  }
}
