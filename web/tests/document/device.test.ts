// One device, several tabs and several people: nothing that was typed is lost, sent twice, or sent under another name.
import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { OpenSite, type Told } from '../../src/document/open_site';
import { DeviceStore } from '../../src/offline/store';
import { name, Server } from './server';

let databases = 0;
let device = '';
let server: Server;
const open_ = new Set<{ close(): void }>();

/** A tab: its own store object over the database of the device. Without `hears`, the tabs cannot tell each other anything. */
async function tab(hears = true) {
  const store = new DeviceStore(device);
  if (!hears) store.onOthers = () => () => {};
  const seen: { now: Told } = { now: undefined as unknown as Told };
  const site = await OpenSite.open('s', server, store, (now) => (seen.now = now));
  open_.add(store).add(site);
  return { site, store, told: () => seen.now };
}
const becomes = (saving: string, one: { told(): Told }) => vi.waitFor(() => expect(one.told().saving).toBe(saving));
const z1 = (value: string) => ({ zones: { z1: { name: value } } });

beforeEach(() => {
  server = new Server();
  device = `device${databases++}`;
});
afterEach(() => {
  for (const one of open_) one.close();
  open_.clear();
});

describe('two tabs of one device', () => {
  test('a closed tab left an edit, the other one has moved the base on: the two values are shown, not one written over the other', async () => {
    const a = await tab(false);
    const b = await tab(false);
    await becomes('saved', b);
    server.reachable = false;
    await a.site.edit('why', name('z1', 'Mine'));
    a.site.close();
    server.reachable = true;
    server.change(name('z1', 'Theirs'));
    b.site.noticed(server.number);
    await vi.waitFor(() => expect(b.told().document).toMatchObject(z1('Theirs')));
    const again = await tab(false);
    await becomes('saved', again);
    expect(server.document).toMatchObject(z1('Theirs'));
    expect(again.told().edits).toMatchObject([{ state: 'held', disputed: ['/zones/z1/name'], changes: [{ before: 'Gate', after: 'Mine' }] }]);
  });

  test('the base on the disk is newer than what an edit there was made on, whoever moved it: the edit is held with both values', async () => {
    const a = await tab(false);
    server.reachable = false;
    await a.site.edit('why', name('z1', 'Mine'));
    await a.site.edit('why', name('z1', 'Mine as well'));
    a.site.close();
    server.reachable = true;
    server.change(name('z1', 'Theirs'));
    // What an older page, or any writer that knows nothing of these edits, leaves behind.
    const { document, revision } = await server.site();
    await a.store.keepState('s', { id: 's', document, revision, seen: new Date(Date.now() + 1).toISOString() }, [], [], new Set());
    const again = await tab(false);
    await becomes('saved', again);
    expect(server.document).toMatchObject(z1('Theirs'));
    expect(again.told().edits.map((one) => one.state)).toEqual(['held', 'held']);
  });

  test('a tab sends what a closed one has left', async () => {
    const a = await tab(false);
    const b = await tab(false);
    await becomes('saved', b);
    server.reachable = false;
    await a.site.edit('why', name('z1', 'Mine'));
    a.site.close();
    server.reachable = true;
    server.change(name('z2', 'Cold store'));
    b.site.noticed(server.number);
    await vi.waitFor(() => expect(server.document).toMatchObject({ zones: { z1: { name: 'Mine' }, z2: { name: 'Cold store' } } }));
    await vi.waitFor(async () => expect(await b.store.edits('s')).toEqual([]));
  });

  test('an edit shows in the other tab at once, also without a network, and is made once', async () => {
    const a = await tab();
    const b = await tab();
    await becomes('saved', b);
    server.reachable = false;
    await a.site.edit('why', name('z1', 'Mine'));
    await vi.waitFor(() => expect(b.told().document).toMatchObject(z1('Mine')));
    await b.site.edit('why', name('z2', 'Cold store'));
    await vi.waitFor(() => expect(a.told().edits).toHaveLength(2));
    server.reachable = true;
    await Promise.all([a.site.send(), b.site.send()]);
    await becomes('saved', a);
    await becomes('saved', b);
    expect(server.number).toBe(3);
    await vi.waitFor(async () => expect(await a.store.edits('s')).toEqual([]));
    await vi.waitFor(() => expect([a.told().edits, b.told().edits]).toEqual([[], []]));
  });

  test('what one tab has decided is not asked in the other any more, and does not come back to the disk', async () => {
    const a = await tab();
    await becomes('saved', a);
    server.change(name('z1', 'Theirs'));
    await a.site.edit('why', name('z1', 'Mine'));
    await becomes('saved', a);
    const b = await tab();
    await vi.waitFor(() => expect(b.told().edits).toMatchObject([{ state: 'held' }]));
    await a.site.withdraw(a.told().edits[0]!.id);
    await vi.waitFor(() => expect(b.told().edits).toEqual([]));
    server.change(name('z2', 'Cold store'));
    b.site.noticed(server.number);
    await becomes('saved', b);
    expect(await b.store.edits('s')).toEqual([]);
  });
});

describe('an edit that the server has, of a tab that was killed before it knew', () => {
  test('leaves no question: what is there already is not asked for', async () => {
    const a = await tab(false);
    await becomes('saved', a);
    server.reachable = false;
    await a.site.edit('Remove', [{ op: 'remove', path: '/zones/z1' }]);
    const [edit] = await a.store.edits('s');
    a.site.close();
    server.reachable = true;
    server.change([{ op: 'remove', path: '/zones/z1' }]);
    server.taken.set(edit!.id, server.revision());
    const { document, revision } = await server.site();
    await a.store.keepState('s', { id: 's', document, revision, seen: new Date().toISOString() }, [], [], new Set());
    const again = await tab(false);
    await becomes('saved', again);
    expect(again.told().edits).toEqual([]);
    await vi.waitFor(async () => expect(await again.store.edits('s')).toEqual([]));
  });

  test('the state of the site and the end of the edit are one step on the disk', async () => {
    const a = await tab(false);
    await becomes('saved', a);
    const steps: [number | undefined, string[]][] = [];
    const keep = a.store.keepState.bind(a.store);
    a.store.keepState = (id, site, gone, edits, known) => {
      steps.push([site?.revision.number, [...gone]]);
      return keep(id, site, gone, edits, known);
    };
    await a.site.edit('Remove', [{ op: 'remove', path: '/zones/z1' }]);
    const { id } = a.told().edits[0]!;
    await becomes('saved', a);
    expect(steps[0]).toEqual([2, [id]]);
  });
});

describe('two people at one device', () => {
  test('edits of one are not sent under the name of the other, are shown, and go when their own person is back', async () => {
    server.person = { name: 'anna', role: 'designer' };
    const anna = await tab(false);
    await becomes('saved', anna);
    server.reachable = false;
    await anna.site.edit('why', name('z1', 'By Anna'));
    anna.site.close();
    server.reachable = true;
    server.person = { name: 'bob', role: 'designer' };
    const bob = await tab(false);
    await becomes('saved', bob);
    expect(server.number).toBe(1);
    expect(bob.told().document).toMatchObject(z1('Gate'));
    expect(bob.told().edits).toMatchObject([{ state: 'set_aside', person: 'anna' }]);
    await bob.site.edit('why', name('z2', 'By Bob'));
    await becomes('saved', bob);
    expect(server.document).toMatchObject({ zones: { z1: { name: 'Gate' }, z2: { name: 'By Bob' } } });
    expect(await bob.store.edits('s')).toMatchObject([{ person: 'anna', state: 'waiting' }]);
    bob.site.close();
    server.person = { name: 'anna', role: 'designer' };
    await becomes('saved', await tab(false));
    expect(server.document).toMatchObject({ zones: { z1: { name: 'By Anna' }, z2: { name: 'By Bob' } } });
  });

  test('edits of which nobody is known to have made them wait for a person to send them as theirs', async () => {
    const before = await tab(false);
    await becomes('saved', before);
    server.reachable = false;
    await before.site.edit('why', name('z1', 'By somebody'));
    before.site.close();
    server.reachable = true;
    server.person = { name: 'bob', role: 'designer' };
    const bob = await tab(false);
    await becomes('saved', bob);
    expect(server.number).toBe(1);
    await bob.site.retry(bob.told().edits[0]!.id);
    await vi.waitFor(() => expect(server.document).toMatchObject(z1('By somebody')));
    await vi.waitFor(async () => expect(await bob.store.edits('s')).toEqual([]));
  });
});
