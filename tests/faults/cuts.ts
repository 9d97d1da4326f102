import { writeFileSync } from 'node:fs';
import type { Random } from '../support/random.ts';

/** A write into a file, or a sync of it that had ended; by when it could be said to have happened, milliseconds. */
type Done = { file: string; at: number } & (
  | { kind: 'write'; bytes: Buffer; offset: number }
  | { kind: 'cut'; length: number }
  | { kind: 'sync'; begunAt: number }
);

const bytesOf = (hex: string) => Buffer.from(hex.replaceAll('\\x', ''), 'hex');
const pathOf = (text: string) => (text.startsWith('\\x') ? bytesOf(text).toString() : text);

const write = /pwrite64\(\d+<([^>]+)>, "([^"]*)", \d+, (\d+)/;
const sync = /f(?:data)?sync\(\d+<([^>]+)>/;
const cut = /ftruncate\(\d+<([^>]+)>, (\d+)\)/;

/** What `strace -f -y -ttt -T -xx` wrote down of the files of a database, by when it had happened. */
export function doneIn(trace: string): Done[] {
  const open = new Map<string, { file: string; begunAt: number }>();
  const all: Done[] = [];
  for (const line of trace.split('\n')) {
    const [, thread = '', seconds = ''] = /^(\d+)\s+(\d+\.\d+) /.exec(line) ?? [];
    const at = Number(seconds) * 1000;
    const [, file = '', bytes, offset] = write.exec(line) ?? [];
    if (file)
      all.push({ kind: 'write', file: pathOf(file), at, bytes: bytesOf(bytes!), offset: Number(offset) });
    const [, shorter = '', length] = cut.exec(line) ?? [];
    if (shorter) all.push({ kind: 'cut', file: pathOf(shorter), at, length: Number(length) });
    const [, synced] = sync.exec(line) ?? [];
    if (synced) open.set(thread, { file: pathOf(synced), begunAt: at });
    const [, took] = / = 0 <(\d+\.\d+)>$/.exec(line) ?? [];
    const isEnd = synced !== undefined || /sync resumed/.test(line);
    const begun = open.get(thread);
    if (!isEnd || took === undefined || !begun) continue;
    all.push({ kind: 'sync', ...begun, at: begun.begunAt + Number(took) * 1000 });
    open.delete(thread);
  }
  return all.sort((a, b) => a.at - b.at);
}

type Change = Exclude<Done, { kind: 'sync' }>;
type Written = Extract<Done, { kind: 'write' }>;

/** What a file holds; it may grow often. */
class Held {
  private room: Buffer;
  private length: number;

  constructor(begun: Buffer) {
    this.room = Buffer.from(begun);
    this.length = begun.length;
  }

  take(one: Change) {
    if (one.kind === 'cut') {
      this.room.fill(0, one.length, this.length);
      this.length = one.length;
      return;
    }
    const end = one.offset + one.bytes.length;
    if (end > this.room.length) this.room = Buffer.concat([this.room, Buffer.alloc(end)]);
    one.bytes.copy(this.room, one.offset);
    this.length = Math.max(this.length, end);
  }

  get all(): Buffer {
    return this.room.subarray(0, this.length);
  }
}

const sectorBytes = 512;

function* sectorsOf(one: Written): Generator<Written> {
  for (let from = 0; from < one.bytes.length; ) {
    const offset = one.offset + from;
    const to = Math.min(one.bytes.length, from + sectorBytes - (offset % sectorBytes));
    yield { ...one, offset, bytes: one.bytes.subarray(from, to) };
    from = to;
  }
}

/** The disk's view of one file: what is surely on it, and what was written since and may be there or not. */
class OnDisk {
  private readonly sure: Held;
  private pending: Change[] = [];

  constructor(begun: Buffer) {
    this.sure = new Held(begun);
  }

  take(done: Done) {
    if (done.kind !== 'sync') this.pending.push(done);
    else {
      for (const one of this.pending) if (one.at < done.begunAt) this.sure.take(one);
      this.pending = this.pending.filter(({ at }) => at >= done.begunAt);
    }
  }

  /** After the cut: all that was not synced is gone, or by sectors some of it. */
  after(random: Random | null): Buffer {
    const left = new Held(this.sure.all);
    for (const one of random === null ? [] : this.pending)
      if (one.kind === 'write')
        for (const sector of sectorsOf(one)) if (random!.uniform() < 0.5) left.take(sector);
    return left.all;
  }
}

/** A database and its log on a disk that can lose its power at any moment of what was traced. */
export class Disk {
  private readonly files: readonly [OnDisk, OnDisk];
  private next = 0;

  constructor(
    private readonly database: string,
    begun: Buffer,
    private readonly done: readonly Done[],
  ) {
    this.files = [new OnDisk(begun), new OnDisk(Buffer.alloc(0))];
  }

  goTo(at: number) {
    for (let one = this.done[this.next]; one && one.at <= at; one = this.done[this.next]) {
      if (one.file === this.database) this.files[0].take(one);
      if (one.file === `${this.database}-wal`) this.files[1].take(one);
      this.next += 1;
    }
  }

  /** What the next start would find, as files of its own. */
  cut(to: string, random: Random | null) {
    writeFileSync(to, this.files[0].after(random));
    writeFileSync(`${to}-wal`, this.files[1].after(random));
  }
}

/** Moments in the middle of a checkpoint: just after a write into the database itself. */
export const checkpointsIn = (done: readonly Done[], database: string): number[] =>
  done.filter(({ kind, file }) => kind === 'write' && file === database).map(({ at }) => at);
