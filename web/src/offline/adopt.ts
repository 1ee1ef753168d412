// Edits that were kept before this page knew of which book they are. They are not lost, and not sent by themselves either: a
// person says for each place whether it is to stand in this book.
import { DeviceStore, kUnnamed } from './store';

/** Takes what the unnamed store has over into the store of a book; how many edits. */
export async function adoptUnnamed(store: DeviceStore): Promise<number> {
  if (store.name === kUnnamed) return 0;
  const unnamed = new DeviceStore();
  try {
    const edits = await unnamed.allEdits();
    for (const edit of edits) {
      const asked = edit.state === 'waiting' ? { ...edit, state: 'held' as const, disputed: edit.changes.map((change) => change.place) } : edit;
      await store.keepEdit(asked);
      await unnamed.keepState(edit.site, null, [edit.id], [], new Set());
    }
    return edits.length;
  } finally {
    unnamed.close();
  }
}
