/** A form once more: where to, and what with. */
export type Again = { action: string; fields: readonly (readonly [string, string])[] };

/** What a person may meet and can act on: becomes a clear page with its status, and is not logged as a fault. */
export class Refusal extends Error {
  constructor(
    readonly status: number,
    readonly title: string,
    message: string,
    /** What was sent, for a page from which it can be sent again. */
    readonly again: Again | null = null,
  ) {
    super(message);
  }
}

export const notFound = (what = 'page') =>
  new Refusal(404, 'Not here', `This ${what} does not exist, or it is not yours to see.`);

export const conflict = (message: string) => new Refusal(409, 'Something changed meanwhile', message);
