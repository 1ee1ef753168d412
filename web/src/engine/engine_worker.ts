// The engine beside the page, in a worker of its own so that the page stays awake (docs/guide/engine.md). One site is open
// in it; messages are answered in their order. The engine lies on the server under /engine/ where the program was built
// with it; where it is not, the page asks the server instead.
import type { Json } from '../document/json';
import { difference } from '../document/patch';
import type { Answer, Question } from '../api/client';
import type { AskedOfEngine, SaidByEngine } from './messages';

interface Session {
  apply(patch: { base_revision: unknown; operations: unknown[] }): Answer<{ problems?: unknown[] }>;
  ask(question: Question): Answer;
  readonly revision: unknown;
  close(): unknown;
}
interface Engine {
  open(text: string, about?: { name?: string }): { results: { problems?: unknown[] }; session: Session | null };
}

let engine: Promise<Engine> | null = null;
let session: Session | null = null;
let opened: Json = null;

async function loaded(base: string): Promise<Engine> {
  const address = `${base}/engine/engine.mjs`;
  const { loadEngine } = (await import(/* @vite-ignore */ address)) as { loadEngine: () => Promise<Engine> };
  return loadEngine();
}

/** Members that the program keeps itself: no patch may touch them, and no answer rests on them. */
const isOwn = (operation: { path: string }) => ['/format', '/version', '/revision'].includes(operation.path);

async function show(document: Json): Promise<void> {
  if (session !== null) {
    const operations = difference(opened, document).filter((one) => !isOwn(one));
    if (operations.length === 0) return;
    if (!session.apply({ base_revision: session.revision, operations }).results.problems) {
      opened = document;
      return;
    }
    session.close();
    session = null;
  }
  const said = (await engine!).open(JSON.stringify(document), { name: 'site' });
  session = said.session;
  opened = document;
}

async function answered(asked: AskedOfEngine): Promise<SaidByEngine> {
  const { n } = asked;
  try {
    engine ??= loaded(asked.base);
    await engine;
  } catch (fault) {
    engine = null;
    return { n, kind: 'absent', fault: String(fault) };
  }
  if (asked.kind === 'load') return { n, kind: 'ready' };
  try {
    await show(asked.document);
    if (session === null) return { n, kind: 'refused' };
    return { n, kind: 'answer', answer: session.ask(asked.question) };
  } catch (fault) {
    engine = session = null; // the machine has stopped: it is loaded anew for the next question
    return { n, kind: 'stopped', fault: String(fault) };
  }
}

let turn: Promise<void> = Promise.resolve();
addEventListener('message', (event: MessageEvent<AskedOfEngine>) => {
  turn = turn.then(async () => postMessage(await answered(event.data)));
});
