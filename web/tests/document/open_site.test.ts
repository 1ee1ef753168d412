// The whole way of an edit against a server that behaves as docs/decisions/020 says, and may fail at any point.
import 'fake-indexeddb/auto';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { OpenSite, type Told } from '../../src/document/open_site';
import { DeviceStore } from '../../src/offline/store';
import { name, Server } from './server';

let databases = 0;
let server: Server;
let store: DeviceStore;
let told: Told;
const open = () => OpenSite.open('s', server, store, (now) => (told = now));
const settled = () => vi.waitFor(() => expect(told.saving).toBe('saved'));

beforeEach(() => {
  server = new Server();
  store = new DeviceStore(`test${databases++}`);
});

describe('an edit', () => {
  test('shows at once, is sent, and is forgotten here once the server has it', async () => {
    const site = await open();
    const kept = site.edit('why', name('z1', 'Front gate'));
    expect(told.document).toMatchObject({ zones: { z1: { name: 'Front gate' } } });
    await kept;
    await settled();
    expect(server.document).toMatchObject({ zones: { z1: { name: 'Front gate' } } });
    expect(await store.edits('s')).toEqual([]);
    expect(told.revision.number).toBe(2);
  });

  test('made without a network survives the end of the tab, and arrives later', async () => {
    const first = await open();
    server.reachable = false;
    await first.edit('why', name('z1', 'Front gate'));
    first.close(); // the tab is killed: nothing but what is on the disk is left
    const again = await open();
    expect(told.document).toMatchObject({ zones: { z1: { name: 'Front gate' } } });
    await vi.waitFor(() => expect(told.saving).toBe('offline'));
    server.reachable = true;
    await again.send();
    await settled();
    expect(server.document).toMatchObject({ zones: { z1: { name: 'Front gate' } } });
    expect(server.number).toBe(2);
  });

  test('whose answer was lost is made once, not twice, even when others came after it', async () => {
    const first = await open();
    await settled();
    server.losesAnswers = 1;
    await first.edit('why', name('z1', 'Front gate'));
    await vi.waitFor(() => expect(told.saving).toBe('offline'));
    first.close();
    server.change(name('z1', 'Their gate'));
    await open();
    await settled();
    expect(server.number).toBe(3);
    expect(told.document).toMatchObject({ zones: { z1: { name: 'Their gate' } } });
    expect(told.edits).toEqual([]);
  });

  test('goes on top of what others did elsewhere', async () => {
    const site = await open();
    await settled();
    server.change(name('z2', 'Cold store'));
    await site.edit('why', name('z1', 'Front gate'));
    await settled();
    expect(server.document).toMatchObject({ zones: { z1: { name: 'Front gate' }, z2: { name: 'Cold store' } } });
    expect(told.document).toEqual(server.document);
  });

  test('that disputes theirs is held with both values until a person chooses, and the next ones go on', async () => {
    const site = await open();
    await settled();
    server.change(name('z1', 'Theirs'));
    await site.edit('why', name('z1', 'Mine'));
    await site.edit('why', name('z2', 'Cold store'));
    await settled();
    expect(told.edits).toMatchObject([{ state: 'held', disputed: ['/zones/z1/name'] }]);
    expect(server.document).toMatchObject({ zones: { z1: { name: 'Theirs' }, z2: { name: 'Cold store' } } });
    expect(await store.edits('s')).toHaveLength(1);
    await site.decide(told.edits[0]!.id, new Map([['/zones/z1/name', 'mine']]));
    await settled();
    expect(server.document).toMatchObject({ zones: { z1: { name: 'Mine' } } });
    expect(await store.edits('s')).toEqual([]);
  });

  test('that the server refuses stays here with what it says', async () => {
    server.refuses = (operations) => operations.some((one) => one.path === '/zones/z1/name');
    const site = await open();
    await site.edit('why', name('z1', ''));
    await site.edit('why', name('z2', 'Cold store'));
    await settled();
    expect(told.edits).toMatchObject([{ state: 'refused', problems: [{ text: 'No.' }] }]);
    expect(told.document).toMatchObject({ zones: { z1: { name: 'Gate' }, z2: { name: 'Cold store' } } });
    await site.withdraw(told.edits[0]!.id);
    expect(await store.edits('s')).toEqual([]);
  });

  test('that was refused is sent again when a person says so, and is taken once it fits', async () => {
    server.refuses = (operations) => operations.some((one) => one.path === '/zones/z1/name');
    const site = await open();
    await site.edit('why', name('z1', 'Front gate'));
    await settled();
    server.refuses = () => false;
    await site.retry(told.edits[0]!.id);
    await settled();
    expect(server.document).toMatchObject({ zones: { z1: { name: 'Front gate' } } });
    expect(told.edits).toEqual([]);
    expect(await store.edits('s')).toEqual([]);
  });

  test('is not called kept where this device refuses to keep it', async () => {
    const site = await open();
    await settled();
    server.reachable = false;
    store.keepEdit = () => Promise.reject(new DOMException('full', 'QuotaExceededError'));
    await site.edit('why', name('z1', 'Front gate'));
    await vi.waitFor(() => expect(told.saving).toBe('offline'));
    expect(told.kept).toBe(false);
    expect(told.edits).toHaveLength(1);
  });
});

describe('undo and redo', () => {
  test('are edits of their own, and go to the server', async () => {
    const site = await open();
    await site.edit('why', name('z1', 'A'));
    await site.edit('why', name('z1', 'B'));
    for (const wanted of ['A', 'Gate']) {
      const step = site.undoStep()!;
      expect(step.overrides).toEqual([]);
      await site.edit(step.why, step.operations, 'undo');
      expect(site.document).toMatchObject({ zones: { z1: { name: wanted } } });
    }
    expect(site.undoStep()).toBeNull();
    const redo = site.redoStep()!;
    await site.edit(redo.why, redo.operations, 'redo');
    await settled();
    expect(server.document).toMatchObject({ zones: { z1: { name: 'A' } } });
  });

  test('tell where somebody else has changed the place since', async () => {
    const site = await open();
    await site.edit('why', name('z1', 'Mine'));
    await settled();
    server.change(name('z1', 'Theirs'));
    site.noticed(server.number);
    await vi.waitFor(() => expect(site.document).toMatchObject({ zones: { z1: { name: 'Theirs' } } }));
    expect(site.undoStep()!.overrides).toEqual([{ place: '/zones/z1/name', before: 'Mine', after: 'Theirs' }]);
  });
});
