import { randomUUID } from 'node:crypto';
import type { FastifyInstance } from 'fastify';
import request from 'supertest';
import { formsOn } from './page-parts.ts';

type Fields = Record<string, string | number | (string | number)[]>;
type SentFile = { field: string; name: string; bytes: Buffer };
type PostOptions = { formKey?: string; csrf?: string; part?: boolean; headers?: Record<string, string> };

/** Somebody with a browser: keeps cookies, finds the token of a page and sends forms like its forms do. */
export class Visitor {
  private readonly cookies = new Map<string, string>();
  private token: string | null = null;

  constructor(
    private readonly app: FastifyInstance,
    cookie: string | null,
  ) {
    if (cookie) this.keep([cookie]);
  }

  private keep(setCookies: string[] | undefined) {
    for (const line of setCookies ?? []) {
      const [pair = ''] = line.split(';');
      const at = pair.indexOf('=');
      this.cookies.set(pair.slice(0, at), pair.slice(at + 1));
    }
  }

  private get cookieHeader() {
    return [...this.cookies].map(([name, value]) => `${name}=${value}`).join('; ');
  }

  private remember(response: request.Response) {
    this.keep(response.headers['set-cookie'] as unknown as string[] | undefined);
    const found = /name="_csrf" value="([^"]+)"|csrf-token&quot;:&quot;([^&]+)&quot;/.exec(
      response.text ?? '',
    );
    this.token = found?.[1] ?? found?.[2] ?? this.token;
    return response;
  }

  async get(path: string, headers: Record<string, string> = {}) {
    return this.remember(
      await request(this.app.server).get(path).set('Cookie', this.cookieHeader).set(headers),
    );
  }

  /** A token as any page carries it. */
  async csrf(): Promise<string> {
    if (!this.token) await this.get('/no-such-page');
    if (!this.token) throw new Error('no page carried a token');
    return this.token;
  }

  async post(path: string, fields: Fields = {}, options: PostOptions = {}) {
    const body = new URLSearchParams();
    body.append('_csrf', options.csrf ?? (await this.csrf()));
    body.append('formKey', options.formKey ?? randomUUID());
    for (const [name, value] of Object.entries(fields)) {
      for (const one of Array.isArray(value) ? value : [value]) body.append(name, String(one));
    }
    return this.remember(
      await request(this.app.server)
        .post(path)
        .set('Cookie', this.cookieHeader)
        .set('Content-Type', 'application/x-www-form-urlencoded')
        .set(options.part ? { 'HX-Request': 'true' } : {})
        .set(options.headers ?? {})
        .send(body.toString()),
    );
  }

  /** Sends a form that edits what is kept, with the mark that its page gives it now. */
  async save(path: string, fields: Fields = {}, page = path, options: PostOptions = {}) {
    const { text } = await this.get(page);
    const form = formsOn(text, page).find(({ action, fields: own }) => action === path && 'version' in own);
    if (!form) throw new Error(`${page} has no form that edits ${path}`);
    return this.post(path, { version: String(form.fields.version), ...fields }, options);
  }

  /** A multipart form with files. */
  async upload(
    path: string,
    files: SentFile | SentFile[],
    fields: Record<string, string> = {},
    options: { formKey?: string; csrf?: string } = {},
  ) {
    const csrf = encodeURIComponent(options.csrf ?? (await this.csrf()));
    const sent = request(this.app.server)
      .post(`${path}?_csrf=${csrf}`)
      .set('Cookie', this.cookieHeader)
      .field('formKey', options.formKey ?? randomUUID());
    for (const [name, value] of Object.entries(fields)) sent.field(name, value);
    for (const { field, bytes, name } of [files].flat()) sent.attach(field, bytes, name);
    return this.remember(await sent);
  }

  /** A file of bytes (a PDF) that the page answers. */
  async bytes(path: string): Promise<{ status: number; type: string; body: Buffer }> {
    const response = await request(this.app.server)
      .get(path)
      .set('Cookie', this.cookieHeader)
      .buffer(true)
      .parse((res, done) => {
        const chunks: Buffer[] = [];
        res.on('data', (chunk: Buffer) => chunks.push(chunk));
        res.on('end', () => done(null, Buffer.concat(chunks)));
      });
    return {
      status: response.status,
      type: response.headers['content-type'] ?? '',
      body: response.body as Buffer,
    };
  }
}
