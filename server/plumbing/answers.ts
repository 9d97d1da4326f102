import type { Readable } from 'node:stream';
import type { JSX } from 'preact';
import type { Furniture } from '../../views/layout/furniture.ts';
import type { Start } from './streams.ts';

export type Notice = NonNullable<Furniture['notice']>;

/** What a handler gives back; serve.ts turns it into HTTP. */
export type Answer =
  | { kind: 'page'; node: JSX.Element; status: number }
  | { kind: 'part'; node: JSX.Element; status: number; notice?: Notice; heard?: string }
  | { kind: 'redirect'; to: string; notice: Notice | null; cookies: string[] }
  | { kind: 'data'; data: object }
  | { kind: 'events'; start: Start; otherwise: string }
  | {
      kind: 'file';
      body: Buffer | string | Readable;
      type: string;
      fileName: string;
      inline: boolean;
    };

export const page = (node: JSX.Element, status = 200): Answer => ({ kind: 'page', node, status });

/** A part of a page, for htmx. What shows in it is said beside it, in a notice or for ears alone (`heard`). */
export const part = (node: JSX.Element, said: { notice?: Notice; heard?: string } = {}): Answer => ({
  kind: 'part',
  node,
  status: 200,
  ...said,
});

/** A form that came back wrong: 422, as a whole page or as the part that htmx swaps. */
export const wrongForm = (node: JSX.Element, asPart = false): Answer =>
  asPart ? { kind: 'part', node, status: 422 } : { kind: 'page', node, status: 422 };

export const redirect = (
  to: string,
  notice: Notice | string | null = null,
  cookies: string[] = [],
): Answer => ({
  kind: 'redirect',
  to,
  notice: typeof notice === 'string' ? { text: notice, tone: 'plain' } : notice,
  cookies,
});

/** For our own scripts. */
export const data = (value: object): Answer => ({ kind: 'data', data: value });

/** News as they come, for a page that stays open; whoever does not listen for events is led elsewhere. */
export const events = (start: Start, otherwise: string): Answer => ({ kind: 'events', start, otherwise });

export const pdf = (body: Buffer | Readable, fileName: string): Answer => ({
  kind: 'file',
  body,
  type: 'application/pdf',
  fileName,
  inline: true,
});

export const download = (body: Buffer | string | Readable, type: string, fileName: string): Answer => ({
  kind: 'file',
  body,
  type,
  fileName,
  inline: false,
});
