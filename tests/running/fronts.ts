import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { connect, createServer } from 'node:net';
import { join } from 'node:path';
import { createServer as createSecureServer } from 'node:tls';
import { fileURLToPath } from 'node:url';

/** What stands before the service: nothing, or one of the samples, some of which take the path off themselves. */
const kinds = ['nothing', 'nginx', 'nginx, path taken off', 'Caddy', 'Caddy, path taken off'] as const;
export type Front = { kind: (typeof kinds)[number]; tls: boolean; path: '' | '/bench' };

/** All ways to stand before it that there are; who has no path cannot take it off. */
export const fronts: Front[] = kinds.flatMap((kind) =>
  (['', '/bench'] as const).flatMap((path) =>
    [false, true].map((tls) => ({ kind, tls, path })).filter(() => path !== '' || !kind.includes('taken')),
  ),
);

export const nameOf = ({ kind, tls, path }: Front) =>
  `${kind}, ${path || 'at the root'}, ${tls ? 'TLS' : 'plain'}`;

const samples = fileURLToPath(new URL('../../ops/running/', import.meta.url));
const sampleOf = ({ kind, path }: Front) => {
  const name = kind.startsWith('nginx') ? 'nginx' : 'Caddyfile';
  const ending = name === 'nginx' ? '.conf' : '';
  return readFileSync(join(samples, path ? `${name}-under-path${ending}` : `${name}${ending}`), 'utf8');
};

export const hostOf = ({ path }: Pick<Front, 'path'>) => (path ? 'example.org' : 'bench.example.org');

/** A certificate of the two names for this proof alone. */
export function makeCertificate(folder: string): { key: string; certificate: string } {
  const [key, certificate] = [join(folder, 'key.pem'), join(folder, 'certificate.pem')];
  const names = 'subjectAltName=DNS:example.org,DNS:bench.example.org';
  const asked = ['req', '-x509', '-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes'];
  const made = ['-keyout', key, '-out', certificate, '-days', '2', '-subj', '/CN=proof', '-addext', names];
  execFileSync('openssl', [...asked, ...made], { stdio: 'ignore' });
  return { key, certificate };
}

type Places = {
  folder: string;
  key: string;
  certificate: string;
  service: number;
  port: number;
  spare: number;
};

/** The sample as it is shipped, but for ports, the certificate's place, and no TLS where none is wanted. */
function nginxFor(front: Front, o: Places): string {
  let text = sampleOf(front)
    .replace(/^\s*listen \[::\].*\n/gm, '')
    .replace('listen 80;', `listen 127.0.0.1:${o.spare};`)
    .replace('listen 443 ssl http2;', `listen 127.0.0.1:${o.port} ssl http2;`)
    .replace(/\/etc\/letsencrypt\S*fullchain\.pem/, o.certificate)
    .replace(/\/etc\/letsencrypt\S*privkey\.pem/, o.key)
    .replaceAll('127.0.0.1:4780', `127.0.0.1:${o.service}`)
    .replaceAll('/var/log/nginx', o.folder)
    .replace(/(return 308 https:\/\/example\.org)/, `$1:${o.port}`);
  if (front.kind.includes('taken'))
    text = text.replace(`127.0.0.1:${o.service};`, `127.0.0.1:${o.service}/;`);
  if (!front.tls)
    text = text
      .slice(text.indexOf('server {', text.indexOf('return 301')))
      .replace(' ssl http2', '')
      .replace(/^\s*ssl_.*\n/gm, '')
      .replace('308 https:', '308 http:');
  const own = ['client_body', 'proxy', 'fastcgi', 'uwsgi', 'scgi'];
  const rooms = own.map((name) => `${name}_temp_path ${o.folder}/${name};`).join('\n');
  return `daemon off;\nmaster_process off;\npid ${o.folder}/nginx.pid;\nerror_log ${o.folder}/nginx.log;\nevents {}\nhttp {\naccess_log off;\n${rooms}\n${text}\n}\n`;
}

function caddyFor(front: Front, o: Places): string {
  const host = hostOf(front);
  const text = sampleOf(front)
    .replace(
      `\n${host} {`,
      `\n${front.tls ? 'https' : 'http'}://${host}:${o.port} {${front.tls ? `\n\ttls ${o.certificate} ${o.key}` : ''}`,
    )
    .replaceAll('127.0.0.1:4780', `127.0.0.1:${o.service}`)
    .replace('handle /', front.kind.includes('taken') ? 'handle_path /' : 'handle /');
  return `{\n\tadmin off\n\tauto_https off\n\tstorage file_system ${o.folder}/caddy\n\tdefault_bind 127.0.0.1\n}\n${text}`;
}

async function listens(port: number): Promise<void> {
  for (let tries = 0; tries < 400; tries += 1) {
    const isOpen = await new Promise<boolean>((resolve) => {
      const socket = connect(port, '127.0.0.1', () => {
        socket.destroy();
        resolve(true);
      });
      socket.once('error', () => resolve(false));
    });
    if (isOpen) return;
    await new Promise((done) => setTimeout(done, 50));
  }
  throw new Error(`nothing listens on ${port}`);
}

export async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const own = server.address();
  await new Promise((done) => server.close(done));
  return own && typeof own === 'object' ? own.port : 0;
}

/** TLS taken off and nothing else done or said: what is asked arrives as it was sent. */
function bareTls(o: Places): () => void {
  const given = { key: readFileSync(o.key), cert: readFileSync(o.certificate) };
  const server = createSecureServer(given, (near) => {
    const far = connect(o.service, '127.0.0.1');
    near.pipe(far).pipe(near);
    for (const [one, other] of [[near, far] as const, [far, near] as const])
      one.on('error', () => other.destroy()).on('close', () => other.destroy());
  });
  server.listen(o.port, '127.0.0.1');
  return () => server.close();
}

function checked(command: string, args: string[], env: NodeJS.ProcessEnv) {
  execFileSync(command, args, { env, stdio: ['ignore', 'ignore', 'pipe'] });
}

/** Lets the proxy's own program judge the sample, and starts it; returns what ends it. */
export async function stand(front: Front, o: Places): Promise<() => void> {
  if (front.kind === 'nothing') {
    const end = front.tls ? bareTls(o) : () => {};
    await listens(front.tls ? o.port : o.service);
    return end;
  }
  mkdirSync(o.folder, { recursive: true });
  const isNginx = front.kind.startsWith('nginx');
  const file = join(o.folder, isNginx ? 'nginx.conf' : 'Caddyfile');
  writeFileSync(file, isNginx ? nginxFor(front, o) : caddyFor(front, o));
  const env = { ...process.env, HOME: o.folder, XDG_DATA_HOME: o.folder, XDG_CONFIG_HOME: o.folder };
  const given = isNginx
    ? ['-c', file, '-e', `${o.folder}/nginx.log`]
    : ['--config', file, '--adapter', 'caddyfile'];
  checked(isNginx ? '/usr/sbin/nginx' : 'caddy', isNginx ? ['-t', ...given] : ['validate', ...given], env);
  const command = isNginx ? '/usr/sbin/nginx' : 'caddy';
  const child: ChildProcess = spawn(command, isNginx ? given : ['run', ...given], { env, stdio: 'ignore' });
  await listens(o.port);
  return () => child.kill('SIGKILL');
}
