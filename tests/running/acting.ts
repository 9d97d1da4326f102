import { randomUUID } from 'node:crypto';
import { formsOn } from '../support/page-parts.ts';
import { type Answer, Wanderer } from './wanderer.ts';

export const tokenOn = (html: string) =>
  /name="_csrf" value="([^"]+)"|csrf-token&quot;:&quot;([^&]+)&quot;/.exec(html)?.slice(1).find(Boolean) ??
  '';

/** Signs in by the form, as people do; throws where that does not lead in. */
export async function signIn(
  at: string,
  person: { signInName: string; password: string },
  certificate: string,
): Promise<Wanderer> {
  const who = new Wanderer(certificate);
  const form = await who.ask(`${at}/sign-in`);
  const fields = { _csrf: tokenOn(form.text), signInName: person.signInName, password: person.password };
  const { status, headers } = await who.send(`${at}/sign-in`, fields);
  const first = `${new URL(at).pathname.replace(/\/$/, '')}/`;
  if (status !== 303 || headers.location !== first)
    throw new Error(`signing in at ${at} was answered ${status}, to ${String(headers.location)}`);
  return who;
}

/** Sends the form of a page whose address fits, as it stands but for what is told. */
export async function submit(
  who: Wanderer,
  page: string,
  action: RegExp,
  told: Record<string, string> = {},
): Promise<Answer> {
  const { text, url } = await who.ask(page);
  const form = formsOn(text, url.pathname).find((one) => one.method === 'post' && action.test(one.action));
  if (!form) throw new Error(`${page} has no form to ${String(action)}`);
  const stands = Object.fromEntries(
    Object.entries(form.fields).map(([name, value]) => [name, String([value].flat()[0] ?? '')]),
  );
  const query = form.query.size > 0 ? `?${form.query}` : '';
  const fields = { ...stands, ...told, _csrf: tokenOn(text), formKey: randomUUID() };
  return who.send(new URL(form.action + query, url), fields);
}
