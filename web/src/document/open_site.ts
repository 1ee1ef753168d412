// A site as it is open in the page: what the server has (base), one's own edits on top of it, and what becomes of them.
//   edit() -> shown at once -> kept on this device -> sent -> taken by the server, and forgotten here
// One edit is sent at a time. Where the server is ahead, what it has is fetched, the edits are moved on top (join.ts), and
// sending goes on. An edit that disputes what somebody else has said, or that the server refuses, is held until a person
// decides; the others go on.
import { Refused, Unreachable, type Client } from '../api/client';
import type { DeviceStore } from '../offline/store';
import { History, type StepBack } from './history';
import { decided, join, type Edit } from './join';
import { sameJson, type Json } from './json';
import { applyOperations, changesOf, type Operation, type Revision } from './patch';

type Server = Pick<Client, 'site' | 'sendEdit'>;
type Store = Pick<DeviceStore, 'site' | 'keepSite' | 'edits' | 'keepEdit' | 'forgetEdit' | 'replaceEdits'>;

export type Saving =
  | 'saved' // the server has everything
  | 'sending'
  | 'offline' // kept here, the server cannot be reached
  | 'not_allowed'; // the server wants somebody to log in, or this person may not edit

export interface Told {
  document: Json;
  base: Json;
  revision: Revision;
  edits: readonly Edit[];
  saving: Saving;
  kept: boolean; // false: this device refuses to keep edits, and they live in this tab alone
  seen: string | null; // when the server's state was last seen
}

const kFirstPause_ms = 1000;
const kLongestPause_ms = 30_000;

/** A new id for an edit. Not crypto.randomUUID: a page on plain http has none. */
export function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

export class OpenSite {
  readonly history = new History();
  #base: Json = {};
  #revision: Revision = { number: 0, sha256: '' };
  #document: Json = {};
  #edits: Edit[] = [];
  #seen: string | null = null;
  #saving: Saving = 'saved';
  #kept = true;
  #order = 0;
  #sending = false;
  #behind = false; // the server has something newer than base
  #pause = kFirstPause_ms;
  #timer: ReturnType<typeof setTimeout> | null = null;
  #closed = false;

  private constructor(
    readonly id: string,
    private readonly server: Server,
    private readonly store: Store,
    private readonly tell: (told: Told) => void,
  ) {}

  /** Opens what this device keeps, else what the server has. Throws where neither is to be had. */
  static async open(id: string, server: Server, store: Store, tell: (told: Told) => void): Promise<OpenSite> {
    const site = new OpenSite(id, server, store, tell);
    await site.#load();
    void site.send();
    return site;
  }

  async #load(): Promise<void> {
    const [kept, edits] = await Promise.all([
      this.store.site(this.id).catch(() => undefined),
      this.store.edits(this.id).catch(() => [] as Edit[]),
    ]);
    this.#edits = edits;
    this.#order = edits.reduce((most, edit) => Math.max(most, edit.order + 1), 0);
    if (kept) {
      this.#base = kept.document;
      this.#revision = kept.revision;
      this.#seen = kept.seen;
      this.#document = this.#withEdits();
      this.#behind = true; // most likely; one look tells
    } else {
      await this.#fetch();
    }
    this.#say(this.#edits.some((one) => one.state === 'waiting') || this.#behind ? 'sending' : 'saved');
  }

  close(): void {
    this.#closed = true;
    if (this.#timer) clearTimeout(this.#timer);
  }

  get document(): Json {
    return this.#document;
  }

  /** Changes the site. It shows at once; resolves when the edit is kept on this device. Throws PatchFault. */
  async edit(why: string, operations: Operation[], step: 'edit' | 'undo' | 'redo' = 'edit'): Promise<void> {
    const before = this.#document;
    const after = applyOperations(before, operations);
    const changes = changesOf(before, after, operations);
    if (changes.length === 0) return;
    if (step === 'edit') this.history.record({ why, changes });
    else if (step === 'undo') this.history.undid();
    else this.history.redid();
    const edit: Edit = {
      id: newId(), site: this.id, order: this.#order++, made: new Date().toISOString(), why, operations, state: 'waiting', changes,
    };
    this.#document = after;
    this.#edits = [...this.#edits, edit];
    this.#say(this.#saving === 'saved' ? 'sending' : this.#saving);
    await this.#keep(() => this.store.keepEdit(edit));
    void this.send();
  }

  undoStep(): StepBack | null {
    return this.history.undo(this.#document);
  }
  redoStep(): StepBack | null {
    return this.history.redo(this.#document);
  }

  /** A person has chosen, place by place: what is left of the held edit becomes an edit of its own. */
  async decide(id: string, chosen: ReadonlyMap<string, 'mine' | 'theirs'>): Promise<void> {
    const edit = this.#edits.find((one) => one.id === id);
    if (!edit) return;
    const operations = decided(this.#document, edit, chosen);
    if (operations.length > 0) await this.edit(edit.why, operations);
    await this.withdraw(id); // after its heir is kept, so that nothing is lost in between
  }

  /** Gives an edit up that is held or was refused. */
  async withdraw(id: string): Promise<void> {
    this.#edits = this.#edits.filter((one) => one.id !== id);
    this.#say(this.#saving);
    await this.#keep(() => this.store.forgetEdit(id));
    void this.send();
  }

  /** Sends an edit again that was refused: something else may have made it right meanwhile. It comes after all others. */
  async retry(id: string): Promise<void> {
    const refused = this.#edits.find((one) => one.id === id && one.state === 'refused');
    if (!refused) return;
    const { problems: _told, ...rest } = refused;
    const again: Edit = { ...rest, state: 'waiting', order: this.#order++ };
    this.#edits = [...this.#edits.filter((one) => one.id !== id), again];
    this.#document = this.#withEdits();
    this.#say(this.#saving);
    await this.#keep(() => this.store.keepEdit(again));
    void this.send();
  }

  /** Somebody says that the server has this revision. */
  noticed(revision: number): void {
    if (revision > this.#revision.number) this.#behind = true;
    void this.send();
  }

  /** Brings the server and this page together, as far as that goes now. */
  async send(): Promise<void> {
    if (this.#sending || this.#closed) return;
    this.#sending = true;
    if (this.#timer) clearTimeout(this.#timer);
    try {
      while (!this.#closed && (await this.#sendOne())) this.#pause = kFirstPause_ms;
      this.#say('saved');
      this.#pause = kFirstPause_ms;
    } catch (fault) {
      if (fault instanceof Refused && (fault.status === 401 || fault.status === 403)) this.#say('not_allowed');
      else if (fault instanceof Unreachable) this.#later();
      else throw fault;
    } finally {
      this.#sending = false;
    }
  }

  #later(): void {
    this.#say('offline');
    this.#timer = setTimeout(() => void this.send(), this.#pause);
    this.#pause = Math.min(2 * this.#pause, kLongestPause_ms);
  }

  /** One step; false where there is nothing to do. The first edit goes before a look at the server: it may have it. */
  async #sendOne(): Promise<boolean> {
    const edit = this.#edits.find((one) => one.state === 'waiting');
    if (!edit) {
      if (!this.#behind) return false;
      await this.#fetch();
      return this.#edits.some((one) => one.state === 'waiting');
    }
    this.#say('sending');
    try {
      const said = await this.server.sendEdit(this.id, edit.id, edit.why, {
        format: 'zoneproof-patch', version: 1, base_revision: this.#revision, operations: edit.operations,
      });
      if (said.kind === 'behind') await this.#fetch();
      else await this.#taken(edit, said.revision);
    } catch (fault) {
      if (!(fault instanceof Refused) || ![400, 404, 413, 422].includes(fault.status)) throw fault;
      await this.#refused(edit, fault);
    }
    return true;
  }

  async #taken(edit: Edit, revision: Revision): Promise<void> {
    const base = applyOperations(this.#base, edit.operations);
    // Another number than the next: others were there in between, or this edit was taken long ago.
    this.#behind ||= revision.number !== this.#revision.number + 1;
    this.#base = base;
    this.#revision = revision;
    this.#edits = this.#edits.filter((one) => one.id !== edit.id);
    this.#say(this.#saving);
    await this.#keep(() => this.store.keepSite(this.#asKept()));
    await this.#keep(() => this.store.forgetEdit(edit.id));
    if (this.#behind) await this.#fetch();
  }

  /** The server takes the edit for wrong: it stays here with what the server says, and what was built on it as well. */
  async #refused(edit: Edit, fault: Refused): Promise<void> {
    const refused: Edit = { ...edit, state: 'refused', problems: fault.problems };
    this.#edits = this.#edits.map((one) => (one.id === edit.id ? refused : one));
    this.#document = this.#withEdits();
    this.#say(this.#saving);
    await this.#keep(() => this.store.keepEdit(refused));
  }

  async #fetch(): Promise<void> {
    const { document: theirs, revision } = await this.server.site(this.id);
    const joined = this.#seen === null ? { document: theirs, edits: this.#edits } : join(this.#base, theirs, this.#edits);
    const left = new Set(joined.edits.map((one) => one.id));
    const gone = this.#edits.filter((one) => !left.has(one.id)).map((one) => one.id);
    // Edits made while the answer was on its way are among this.#edits: join() has seen them.
    this.#base = theirs;
    this.#revision = revision;
    this.#seen = new Date().toISOString();
    this.#edits = joined.edits;
    this.#document = sameJson(this.#document, joined.document) ? this.#document : joined.document;
    this.#behind = false;
    this.#say(this.#saving);
    await this.#keep(() => this.store.replaceEdits(gone, joined.edits));
    await this.#keep(() => this.store.keepSite(this.#asKept()));
  }

  /** Base with the edits that are not held. One that no longer fits is held with what it says. */
  #withEdits(): Json {
    const joined = join(this.#base, this.#base, this.#edits.map((one) => ({ ...one })));
    this.#edits = joined.edits;
    return joined.document;
  }

  #asKept() {
    return { id: this.id, document: this.#base, revision: this.#revision, seen: this.#seen ?? new Date().toISOString() };
  }

  async #keep(action: () => Promise<void>): Promise<void> {
    try {
      await action();
      this.#kept = true;
    } catch {
      this.#kept = false; // private window, disk full: the page says so, and goes on sending
    }
    this.#say(this.#saving);
  }

  #say(saving: Saving): void {
    this.#saving = saving;
    this.tell({
      document: this.#document, base: this.#base, revision: this.#revision, edits: this.#edits, saving, kept: this.#kept, seen: this.#seen,
    });
  }
}
