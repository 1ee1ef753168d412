// The stream of what others do. A browser comes back by itself after a break of the line, but not where it was answered with
// something else than a stream (401 after a visit has ended, 503 from a proxy): then it is opened anew here, after a pause.
export interface Stream {
  readonly readyState: number;
  addEventListener(type: string, heard: (event: MessageEvent<string>) => void): void;
  close(): void;
}
export interface Heard {
  revision(number: number): void;
  people(people: { name: string | null; pages: number }[]): void;
  open(): void;
}

const kClosed = 2; // EventSource.CLOSED
const kFirstPause_ms = 1000;
const kLongestPause_ms = 30_000; // as with edits that wait: a server that is away is not asked more often

export class Live {
  #stream: Stream | null = null;
  #timer: ReturnType<typeof setTimeout> | null = null;
  #pause = kFirstPause_ms;
  #ended = false;

  constructor(
    private readonly opened: () => Stream,
    private readonly heard: Heard,
  ) {
    this.#open();
  }

  /** Opens the stream now where it is not open: somebody has logged in, the network is back. */
  again(): void {
    this.#pause = kFirstPause_ms;
    if (this.#stream === null || this.#stream.readyState === kClosed) this.#open();
  }
  close(): void {
    this.#ended = true;
    this.#stop();
  }

  #stop(): void {
    if (this.#timer) clearTimeout(this.#timer);
    this.#timer = null;
    this.#stream?.close();
    this.#stream = null;
  }
  #open(): void {
    if (this.#ended) return;
    this.#stop();
    const stream = (this.#stream = this.opened());
    const revision = (event: MessageEvent<string>) => {
      const said = JSON.parse(event.data) as { number?: number; revision?: { number: number } };
      this.heard.revision(said.revision?.number ?? said.number ?? 0);
    };
    stream.addEventListener('hello', revision);
    stream.addEventListener('revision', revision);
    stream.addEventListener('people', (event) => this.heard.people((JSON.parse(event.data) as { people: { name: string | null; pages: number }[] }).people));
    stream.addEventListener('open', () => {
      this.#pause = kFirstPause_ms;
      this.heard.open();
    });
    stream.addEventListener('error', () => {
      if (stream === this.#stream && stream.readyState === kClosed) this.#later();
    });
  }
  #later(): void {
    this.#stop();
    this.#timer = setTimeout(() => this.#open(), this.#pause);
    this.#pause = Math.min(2 * this.#pause, kLongestPause_ms);
  }
}
