// A site as it is open in the page: what the server has (base), one's own edits on top of it, and what becomes of them.
//   edit() -> shown at once -> kept on this device -> sent -> taken by the server, and forgotten here
// One edit is sent at a time, and only under the name of who made it. Where the server is ahead, what it has is fetched, the
// edits are moved on top (join.ts), and sending goes on. An edit that disputes what somebody else has said, or that the server
// refuses, is held until a person decides; the others go on. Tabs of one device share what is kept: each looks at what the
// others have kept before it joins, and sends what a closed one has left.
import { Refused, type Client, type Taken } from '../api/client';
import { inOrder, type DeviceStore } from '../offline/store';
import { fateOf } from './fate';
import { History, type StepBack } from './history';
import { decided, join, type Edit, type Joined, type Problem } from './join';
import { sameJson, type Json } from './json';
import { applyOperations, changesOf, PatchFault, type Operation, type Revision } from './patch';
import { demandRight, NotForRole, type Who } from './rights';

type Server = Pick<Client, 'site' | 'sendEdit'> & Partial<Pick<Client, 'who' | 'checkVisit'>>;
type Store = Pick<DeviceStore, 'look' | 'keepState' | 'keepEdit' | 'onOthers'>;

export type Saving =
  | 'saved' // the server has everything
  | 'sending'
  | 'offline' // kept here, the server cannot be reached
  | 'failing' // kept here, the server answers and cannot take it now; the first edit has its words
  | 'not_allowed'; // the server wants somebody to log in

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
  #onDisk = new Set<string>(); // edits that this device keeps, as far as this tab knows
  #seen: string | null = null;
  #saving: Saving = 'saved';
  #kept = true;
  #order = 0;
  #sending = false;
  #behind = false; // the server has something newer than base
  #othersWrote = false; // another tab has kept something since the last look
  #pause = kFirstPause_ms;
  #timer: ReturnType<typeof setTimeout> | null = null;
  #closed = false;
  #stopHearing: () => void;

  private constructor(
    readonly id: string,
    private readonly server: Server,
    private readonly store: Store,
    private readonly tell: (told: Told) => void,
  ) {
    this.#stopHearing = store.onOthers(id, () => {
      this.#othersWrote = true;
      void this.send();
    });
  }

  /** Opens what this device keeps, else what the server has. Throws where neither is to be had. */
  static async open(id: string, server: Server, store: Store, tell: (told: Told) => void): Promise<OpenSite> {
    const site = new OpenSite(id, server, store, tell);
    try {
      await site.#load();
    } catch (fault) {
      site.close();
      throw fault;
    }
    void site.send();
    return site;
  }

  async #load(): Promise<void> {
    const found = await this.store.look(this.id).catch(() => ({ site: undefined, edits: [] as Edit[] }));
    this.#edits = found.edits;
    this.#onDisk = new Set(found.edits.map((one) => one.id));
    this.#countOn();
    if (found.site) {
      this.#takeKept(found.site);
      await this.#join((mine) => join(this.#base, this.#base, mine, 'elsewhere'));
      this.#behind = true; // most likely; one look tells
    } else {
      await this.#fetch();
    }
    this.#say(this.#next() || this.#behind ? 'sending' : 'saved');
  }

  close(): void {
    this.#closed = true;
    this.#stopHearing();
    if (this.#timer) clearTimeout(this.#timer);
  }

  get document(): Json {
    return this.#document;
  }

  /** Changes the site. It shows at once; resolves when the edit is kept on this device. Throws PatchFault and NotForRole. */
  async edit(why: string, operations: Operation[], step: 'edit' | 'undo' | 'redo' = 'edit'): Promise<void> {
    const before = this.#document;
    const after = applyOperations(before, operations);
    const changes = changesOf(before, after, operations);
    if (changes.length > 0) this.#demandRight(operations, step);
    const id = newId();
    if (step === 'undo') this.history.undid(changes.length > 0 ? id : null);
    else if (step === 'redo') this.history.redid(changes.length > 0 ? id : null);
    else this.history.record({ why, changes }, id);
    if (changes.length === 0) return;
    const edit: Edit = {
      id, site: this.id, order: this.#order++, made: new Date().toISOString(), why, person: this.#who().name, operations, state: 'waiting', changes,
    };
    this.#document = after;
    this.#edits = [...this.#edits, edit];
    this.#say(this.#saving === 'saved' ? 'sending' : this.#saving);
    await this.#keepEdit(edit);
    void this.send();
  }
  /** A step that the role forbids is not offered again: the steps before it would be out of reach. */
  #demandRight(operations: Operation[], step: 'edit' | 'undo' | 'redo'): void {
    try {
      demandRight(this.#who().role, operations);
    } catch (fault) {
      if (step !== 'edit' && fault instanceof NotForRole) this.history.passOver(step);
      throw fault;
    }
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

  /** Gives an edit up. */
  async withdraw(id: string): Promise<void> {
    this.#edits = this.#edits.filter((one) => one.id !== id);
    this.history.drop(id);
    // What was built on it stays, and stands on what is there now.
    await this.#join((mine) => join(this.#base, this.#base, mine), [id]);
    void this.send();
  }

  /**
   * Sends an edit again that was refused, or an edit of somebody else under the name of who is here: a person has said so. It
   * comes after all others, and is held where its places no longer hold what it was made on.
   */
  async retry(id: string): Promise<void> {
    const found = this.#edits.find((one) => one.id === id);
    if (!found) return;
    if (found.state === 'refused' || !this.#isMine(found)) {
      const { problems: _told, disputed: _places, ...rest } = found;
      const again: Edit = { ...rest, person: this.#who().name, state: 'waiting', order: this.#order++ };
      this.#edits = [...this.#edits.filter((one) => one.id !== id), again];
      this.history.record({ why: again.why, changes: again.changes }, id);
      await this.#join((mine) => join(this.#base, this.#base, mine, 'elsewhere'), []);
      this.#say(this.#saving);
    }
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
      while (!this.#closed && ((await this.#sendOne()) || this.#othersWrote)) this.#pause = kFirstPause_ms;
      this.#say('saved');
      this.#pause = kFirstPause_ms;
    } catch (fault) {
      this.#stuck(fault);
    } finally {
      this.#sending = false;
    }
  }

  /** Nothing goes now. It is said why, and tried again by itself unless somebody has to log in first. */
  #stuck(fault: unknown): void {
    const fate = fateOf(fault);
    const problems = fault instanceof Refused ? fault.problems : [];
    if (fate === 'failing' && !(fault instanceof Refused)) {
      console.warn('sending:', fault);
      this.#behind = true;
    }
    const first = this.#next();
    this.#edits = this.#edits.map((one) => (one === first && fate !== 'away' ? { ...one, problems } : one));
    if (fate === 'log_in') this.#say('not_allowed');
    else this.#later(fate === 'away' ? 'offline' : 'failing');
  }

  #later(saving: Saving): void {
    this.#say(saving);
    if (this.#closed) return;
    this.#timer = setTimeout(() => void this.send(), this.#pause);
    this.#pause = Math.min(2 * this.#pause, kLongestPause_ms);
  }

  /** One step; false where there is nothing to do. The first edit goes before a look at the server: it may have it. */
  async #sendOne(): Promise<boolean> {
    if (this.#othersWrote) await this.#look();
    const edit = this.#next();
    if (!edit) {
      if (!this.#behind) return false;
      await this.#fetch();
      return this.#next() !== undefined;
    }
    if (this.#saving !== 'failing') this.#say('sending');
    const said = await this.#ask(edit);
    if (said.kind === 'behind') await this.#catchUp(said.problems);
    else if (said.kind === 'refused') await this.#refused(edit, said.problems);
    else await this.#taken(edit, said.revision);
    return true;
  }

  async #ask(edit: Edit): Promise<Taken | { kind: 'refused'; problems: Problem[] }> {
    try {
      return await this.server.sendEdit(this.id, edit.id, edit.why, {
        format: 'zoneproof-patch', version: 1, base_revision: this.#revision, operations: edit.operations,
      });
    } catch (fault) {
      const fate = fateOf(fault);
      if ((fate === 'behind' || fate === 'refused') && fault instanceof Refused) return { kind: fate, problems: fault.problems };
      throw fault;
    }
  }

  /** The server calls the base old: then there is a newer one. Where there is none, asking again at once would not end. */
  async #catchUp(problems: Problem[]): Promise<void> {
    const before = this.#revision;
    await this.#fetch();
    if (before.number === this.#revision.number && before.sha256 === this.#revision.sha256) throw new Refused(409, problems);
  }

  async #taken(edit: Edit, revision: Revision): Promise<void> {
    // Another number than the next: others were there in between, or this edit was taken long ago.
    this.#behind ||= revision.number !== this.#revision.number + 1;
    try {
      this.#base = applyOperations(this.#base, edit.operations);
      this.#revision = revision;
      this.#seen = new Date().toISOString();
    } catch (fault) {
      if (!(fault instanceof PatchFault)) throw fault;
      this.#behind = true; // taken on another base, through another tab: what the server has is fetched
    }
    this.#edits = this.#edits.filter((one) => one.id !== edit.id);
    this.#say('sending');
    await this.#keepState([edit.id]);
    if (this.#behind) await this.#fetch();
  }

  /** The server takes the edit for wrong: it stays here with what the server says, and what was built on it as well. */
  async #refused(edit: Edit, problems: Problem[]): Promise<void> {
    const refused: Edit = { ...edit, state: 'refused', problems };
    this.#edits = this.#edits.map((one) => (one.id === edit.id ? refused : one));
    await this.#join((mine) => join(this.#base, this.#base, mine), []);
    this.#say(this.#saving);
  }

  async #fetch(): Promise<void> {
    const asked = new Date().toISOString();
    await this.server.checkVisit?.();
    const { document: theirs, revision } = await this.server.site(this.id);
    await this.#look(); // edits of other tabs are joined as well: what a closed one has left is sent from here
    if (this.#seen !== null && this.#seen > asked) {
      // Another tab has seen the server since: its look is the newer one, unless the server has said more to us.
      this.#behind = revision.number > this.#revision.number;
      if (this.#behind) return this.#fetch();
      return;
    }
    // Edits made while the answer was on its way are among this.#edits: join() sees them.
    const base = this.#base;
    const first = this.#seen === null;
    this.#base = theirs;
    this.#revision = revision;
    this.#seen = new Date().toISOString();
    this.#behind = false;
    await this.#join((mine) => (first ? join(theirs, theirs, mine, 'elsewhere') : join(base, theirs, mine)), []);
    this.#say(this.#saving);
  }

  /** Takes in what other tabs of this device have kept: a newer state of the site, new edits, and that some are gone. */
  async #look(): Promise<void> {
    this.#othersWrote = false;
    const known = new Set(this.#onDisk); // before the look: an edit that is kept while it goes on is not gone
    const found = await this.store.look(this.id).catch(() => null);
    if (!found) return;
    const there = new Set(found.edits.map((one) => one.id));
    const newer = found.site !== undefined && found.site.seen > (this.#seen ?? '');
    const gone = this.#edits.some((one) => known.has(one.id) && !there.has(one.id));
    const strange = found.edits.some((one) => !this.#edits.some((mine) => mine.id === one.id && mine.state === one.state));
    if (!newer && !gone && !strange) return;
    if (gone && !newer) this.#behind = true; // taken by the server, or given up
    if (newer && found.site) this.#takeKept(found.site);
    const here = new Map(this.#edits.map((one) => [one.id, one]));
    const ours = (one: Edit) => (!newer && here.get(one.id)?.state === one.state ? here.get(one.id)! : one);
    const unsaved = this.#edits.filter((one) => !there.has(one.id) && !known.has(one.id));
    this.#edits = [...found.edits.map(ours), ...unsaved].sort(inOrder);
    for (const id of known) if (!there.has(id)) this.#onDisk.delete(id);
    for (const id of there) this.#onDisk.add(id);
    this.#countOn();
    await this.#join((mine) => join(this.#base, this.#base, mine, 'elsewhere'));
    this.#say(this.#saving);
  }

  #takeKept(kept: { document: Json; revision: Revision; seen: string }): void {
    this.#base = kept.document;
    this.#revision = kept.revision;
    this.#seen = kept.seen;
  }
  #countOn(): void {
    this.#order = this.#edits.reduce((most, edit) => Math.max(most, edit.order + 1), this.#order);
  }

  /**
   * Base with one's own edits that are not held. Shown at once, and kept where something is held or gone by it.
   * @param also edits that are gone as well; with a list, even an empty one, the state is kept in any case
   */
  async #join(joining: (mine: Edit[]) => Joined, also?: string[]): Promise<void> {
    const mine = this.#edits.filter((one) => this.#isMine(one));
    const before = new Map(mine.map((one) => [one.id, one.state]));
    const joined = joining(mine);
    const left = new Set(joined.edits.map((one) => one.id));
    const gone = mine.filter((one) => !left.has(one.id)).map((one) => one.id);
    this.#edits = [...this.#edits.filter((one) => !this.#isMine(one)), ...joined.edits].sort(inOrder);
    this.#document = sameJson(this.#document, joined.document) ? this.#document : joined.document;
    for (const one of joined.edits) if (one.state !== 'waiting') this.history.drop(one.id);
    const changed = gone.length > 0 || joined.edits.some((one) => before.get(one.id) !== one.state);
    if (also || changed) {
      this.#say(this.#saving);
      await this.#keepState([...gone, ...(also ?? [])]);
    }
  }

  #who(): Who {
    return this.server.who?.() ?? { name: null, role: null };
  }
  #isMine = (edit: Edit) => (edit.person ?? null) === this.#who().name;
  /** The edit that is to be sent next: under another name than that of who made it none goes. */
  #next(): Edit | undefined {
    return this.#edits.find((one) => one.state === 'waiting' && this.#isMine(one));
  }

  #keepEdit(edit: Edit): Promise<void> {
    return this.#keep(async () => {
      await this.store.keepEdit(edit);
      this.#onDisk.add(edit.id);
    });
  }
  /** The state of the site, one's edits and what is gone, in one step. Edits of others are not touched. */
  #keepState(gone: string[]): Promise<void> {
    const mine = this.#edits.filter((one) => this.#isMine(one));
    const site = { id: this.id, document: this.#base, revision: this.#revision, seen: this.#seen ?? new Date().toISOString() };
    const known = new Set(this.#onDisk);
    return this.#keep(async () => {
      await this.store.keepState(this.id, site, gone, mine, known);
      for (const one of mine) this.#onDisk.add(one.id);
    });
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
    const edits = this.#edits.map((one) => (this.#isMine(one) ? one : { ...one, state: 'set_aside' as const }));
    this.tell({
      document: this.#document, base: this.#base, revision: this.#revision, edits, saving, kept: this.#kept, seen: this.#seen,
    });
  }
}
