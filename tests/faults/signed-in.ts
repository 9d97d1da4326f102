export type Answered = { status: number; text: string; ms: number; location: string };

/** Somebody signed in to a service that really runs, who sends one form after the other and keeps the answers' times. */
export class SignedIn {
  private cookies: string;
  private token = '';
  private begun: Promise<void> | null = null;

  constructor(
    readonly address: string,
    cookie: string,
  ) {
    this.cookies = cookie;
  }

  async get(path: string): Promise<Answered> {
    return this.ask(path, {});
  }

  /** Sends a form; the same key again is the same form again. */
  async post(path: string, fields: Record<string, string | string[]>, key: string = crypto.randomUUID()) {
    await this.begin();
    const body = new URLSearchParams({ _csrf: this.token, formKey: key });
    for (const [field, value] of Object.entries(fields))
      for (const one of [value].flat()) body.append(field, one);
    return this.ask(path, { method: 'POST', body });
  }

  async upload(path: string, field: string, bytes: Buffer, key: string = crypto.randomUUID()) {
    await this.begin();
    const body = new FormData();
    body.append('formKey', key);
    body.append(field, new Blob([Uint8Array.from(bytes)], { type: 'image/jpeg' }), 'photo.jpg');
    return this.ask(`${path}?_csrf=${encodeURIComponent(this.token)}`, { method: 'POST', body });
  }

  /** Once, whoever asks first: a second token would come with a cookie of its own. */
  begin(): Promise<void> {
    this.begun ??= this.readToken();
    return this.begun;
  }

  private async readToken() {
    const page = await fetch(`${this.address}/account`, {
      headers: { cookie: this.cookies },
      redirect: 'manual',
    });
    this.token = /name="_csrf" value="([^"]+)"/.exec(await page.text())?.[1] ?? '';
    if (this.token === '') throw new Error(`no token on the page, status ${page.status}`);
    const set = page.headers.getSetCookie().map((line) => line.split(';')[0]);
    this.cookies = [this.cookies, ...set].join('; ');
  }

  private async ask(path: string, options: RequestInit): Promise<Answered> {
    const begun = performance.now();
    const answer = await fetch(`${this.address}${path}`, {
      ...options,
      headers: { cookie: this.cookies },
      redirect: 'manual',
    });
    const text = await answer.text();
    const location = answer.headers.get('location') ?? '';
    return { status: answer.status, text, location, ms: performance.now() - begun };
  }
}

/** The value that a share of the times lies below. */
export function quantile(times: readonly number[], share: number): number {
  const sorted = [...times].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN;
}

export const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
