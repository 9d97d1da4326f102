import type { Lattice } from './lattice.ts';
import { POINTS } from './nodes.ts';
import type { Opening, PopulationState } from './state.ts';
import { STEP_KINDS, type Step } from './steps.ts';

/** Raise it whenever the bytes, or the meaning of a stored number, change: old states are then worked out anew. */
const VERSION = 3;

/** Stored bytes that this version cannot read; the state has to be worked out again from its events. */
export class UnreadableStateError extends Error {
  override readonly name = 'UnreadableStateError';
}

const HEADER_BYTES = 4 + 4 + 2 + 4;
const OPENING_NUMBERS = 6;
const STEP_BYTES = 4 + 1 + 3 * 8;

/**
 * A state as bytes, 14 kB and 29 bytes an event: version, sizes, start and priors, events, lattice, nodes; little-endian.
 * Decoding gives the same state back, bit for bit.
 */
export function encodeState(state: PopulationState): Uint8Array {
  const { lattice, nodes, opening } = state;
  const steps = state.steps ?? [];
  const count = lattice.rows * lattice.columns;
  const numbers = 1 + OPENING_NUMBERS + 3 + 3 * lattice.rows;
  const size = HEADER_BYTES + 8 * numbers + STEP_BYTES * steps.length + 4 * 4 * count + 2 * POINTS * count;
  const bytes = new Uint8Array(size);
  const out = new Cursor(bytes);
  for (const value of [VERSION, lattice.rows, lattice.columns, POINTS]) out.putByte(value);
  out.putInt(state.day);
  out.putShort(state.steps === null ? -1 : steps.length);
  out.putInt(opening.day);
  out.putDouble(state.processSd);
  const { logAnimals, animalsSd, logK, kSd, logR, rSd } = opening;
  for (const value of [logAnimals, animalsSd, logK, kSd, logR, rSd]) out.putDouble(value);
  for (const value of [lattice.k.center, lattice.k.scale, lattice.k.skew]) out.putDouble(value);
  for (const values of [lattice.rCenter, lattice.rLogScale, lattice.rSkew]) {
    for (const value of values) out.putDouble(value);
  }
  for (const step of steps) {
    out.putInt(step.day);
    out.putByte(STEP_KINDS.indexOf(step.kind));
    for (const value of step.values) out.putDouble(value);
  }
  for (const values of [nodes.logWeight, nodes.alive, nodes.center, nodes.spread]) {
    for (const value of values) out.putFloat(value);
  }
  out.putShorts(nodes.shape);
  return bytes;
}

/**
 * The state that `encodeState` wrote.
 *
 * Errors: UnreadableStateError for bytes of another version, cut short or too long.
 */
export function decodeState(bytes: Uint8Array): PopulationState {
  const cursor = new Cursor(bytes);
  try {
    if (cursor.byte() !== VERSION) throw new UnreadableStateError('a stored estimate of another version');
    const rows = cursor.byte();
    const columns = cursor.byte();
    if (cursor.byte() !== POINTS) throw new UnreadableStateError('a stored estimate on another grid');
    const day = cursor.int();
    const steps = cursor.short();
    const openingDay = cursor.int();
    const processSd = cursor.double();
    const opening = readOpening(cursor, openingDay);
    const lattice = readLattice(cursor, rows, columns);
    const kept = steps < 0 ? null : Array.from({ length: steps }, () => readStep(cursor));
    const count = rows * columns;
    const floats = () => cursor.floats(count);
    const nodes = {
      logWeight: floats(),
      alive: floats(),
      center: floats(),
      spread: floats(),
      shape: cursor.shorts(count * POINTS),
    };
    if (!cursor.atEnd()) throw new UnreadableStateError('a stored estimate with bytes left over');
    return { day, processSd, opening, steps: kept, lattice, nodes };
  } catch (error) {
    if (error instanceof RangeError) throw new UnreadableStateError('a stored estimate that was cut short');
    throw error;
  }
}

function readOpening(cursor: Cursor, day: number): Opening {
  const logAnimals = cursor.double();
  const animalsSd = cursor.double();
  const logK = cursor.double();
  const kSd = cursor.double();
  const logR = cursor.double();
  return { day, logAnimals, animalsSd, logK, kSd, logR, rSd: cursor.double() };
}

function readLattice(cursor: Cursor, rows: number, columns: number): Lattice {
  const center = cursor.double();
  const scale = cursor.double();
  const skew = cursor.double();
  const doubles = () => Float64Array.from({ length: rows }, () => cursor.double());
  return {
    rows,
    columns,
    k: { center, scale, skew },
    rCenter: doubles(),
    rLogScale: doubles(),
    rSkew: doubles(),
  };
}

function readStep(cursor: Cursor): Step {
  const day = cursor.int();
  const kind = STEP_KINDS[cursor.byte()];
  if (kind === undefined) throw new UnreadableStateError('a stored estimate with an unknown event');
  return { day, kind, values: [cursor.double(), cursor.double(), cursor.double()] };
}

/** Reads or writes one number after another. */
class Cursor {
  private at = 0;
  private readonly view: DataView;

  constructor(bytes: Uint8Array) {
    this.view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  }

  private step(size: number): number {
    this.at += size;
    return this.at - size;
  }

  putByte(value: number): void {
    this.view.setUint8(this.step(1), value);
  }
  putShort(value: number): void {
    this.view.setInt16(this.step(2), value, true);
  }
  putInt(value: number): void {
    this.view.setInt32(this.step(4), value, true);
  }
  putFloat(value: number): void {
    this.view.setFloat32(this.step(4), value, true);
  }
  putDouble(value: number): void {
    this.view.setFloat64(this.step(8), value, true);
  }
  byte(): number {
    return this.view.getUint8(this.step(1));
  }
  short(): number {
    return this.view.getInt16(this.step(2), true);
  }
  int(): number {
    return this.view.getInt32(this.step(4), true);
  }
  /** The many numbers of the nodes: one loop for each kind, since a state is read with every tap. */
  putShorts(values: Int16Array): void {
    const from = this.step(2 * values.length);
    for (let i = 0; i < values.length; i += 1) this.view.setInt16(from + 2 * i, values[i]!, true);
  }
  shorts(count: number): Int16Array {
    const values = new Int16Array(count);
    const from = this.step(2 * count);
    for (let i = 0; i < count; i += 1) values[i] = this.view.getInt16(from + 2 * i, true);
    return values;
  }
  floats(count: number): Float32Array {
    const values = new Float32Array(count);
    const from = this.step(4 * count);
    for (let i = 0; i < count; i += 1) values[i] = this.view.getFloat32(from + 4 * i, true);
    return values;
  }
  double(): number {
    return this.view.getFloat64(this.step(8), true);
  }
  atEnd(): boolean {
    return this.at === this.view.byteLength;
  }
}
