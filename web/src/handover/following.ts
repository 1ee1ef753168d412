// Long work at the server, looked at until it ends. Its number is counted anew when the program is started anew: work of another
// site under this number is not ours, and its papers must not be offered as ours.
import { Refused, type Client, type Work } from '../api/client';
import type { Problem } from '../document/join';

export type Seen =
  | { kind: 'work'; work: Work }
  | { kind: 'away' } // not to be reached just now: looked at again
  | { kind: 'gone' } // the server knows it no longer
  | { kind: 'refused'; problems: Problem[] };

export const kEnded: readonly Work['state'][] = ['done', 'failed', 'stopped'];
const kLook_ms = 700;
const kLongestLook_ms = 10_000; // while the server is away

export async function look(client: Pick<Client, 'work'>, number: number, site: string): Promise<Seen> {
  try {
    const work = await client.work(number);
    return work.site === site ? { kind: 'work', work } : { kind: 'gone' };
  } catch (fault) {
    if (!(fault instanceof Refused)) return { kind: 'away' };
    return fault.status === 404 ? { kind: 'gone' } : { kind: 'refused', problems: fault.problems };
  }
}

/** Tells what is seen until the work has ended, or nobody asks any more. */
export async function follow(client: Pick<Client, 'work'>, number: number, site: string, signal: AbortSignal, tell: (seen: Seen) => void): Promise<void> {
  let pause = kLook_ms;
  for (;;) {
    await new Promise((next) => setTimeout(next, pause));
    if (signal.aborted) return;
    const seen = await look(client, number, site);
    if (signal.aborted) return;
    tell(seen);
    if (seen.kind === 'gone' || seen.kind === 'refused' || (seen.kind === 'work' && kEnded.includes(seen.work.state))) return;
    pause = seen.kind === 'away' ? Math.min(2 * pause, kLongestLook_ms) : kLook_ms;
  }
}
