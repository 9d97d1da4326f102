import { readFileSync } from 'node:fs';
import { isAbsolute, join, resolve } from 'node:path';
import { z } from 'zod';
import { isAddressOrNet, isLoopback } from './plumbing/loopback.ts';
import { type MailServer, mailServerOf, mailSettings } from './plumbing/mail-server.ts';
import { nearestName } from './plumbing/near-names.ts';

const schema = z.object({
  DATA_DIR: z.string().min(1).default('data'),
  HOST: z.string().min(1).default('127.0.0.1'),
  PORT: z.coerce.number().int().min(0).max(65535).default(4780),
  BASE_URL: z.url({ protocol: /^https?$/ }).optional(),
  PLAIN_HTTP: z.enum(['yes', 'no']).default('no'),
  LOG_LEVEL: z.enum(['fatal', 'error', 'warn', 'info', 'debug', 'silent']).default('info'),
  TRUSTED_PROXIES: z
    .string()
    .default('')
    .transform((list) =>
      list
        .split(',')
        .map((s) => s.trim())
        .filter(Boolean),
    )
    .refine(
      (list) => list.every(isAddressOrNet),
      'must be addresses like 127.0.0.1 or nets like 172.30.0.0/24',
    ),
  BACKUP_DIR: z.string().min(1).optional(),
  BACKUP_HOOK: z.string().startsWith('/', 'must be the whole path of a program').optional(),
  MIN_FREE_MB: z.coerce.number().int().min(20).max(1_000_000).default(200),
  METRICS_TOKEN: z.string().min(20, 'must have 20 characters or more').optional(),
  NETWORK_FOLDER: z.enum(['yes', 'no']).default('no'),
  ...mailSettings,
});

export type Config = {
  dataDir: string;
  host: string;
  port: number;
  /** Address people use, without a slash at the end; null means "whatever this process listens on". */
  baseUrl: string | null;
  /** The path of that address, like /bench; empty where the service has a host name of its own. */
  basePath: string;
  secureCookies: boolean;
  logLevel: z.infer<typeof schema>['LOG_LEVEL'];
  trustedProxies: string[];
  /** Null where no mail server is named: then nothing is sent. */
  mail: MailServer | null;
  /** Folder of the backups. */
  backupDir: string;
  /** Program that is given the path of each good backup; null for none. */
  backupHook: string | null;
  /** With less room than this on the disk of the data nothing is written any more. */
  minFreeBytes: number;
  /** What a scraper of metrics shows; null for no metrics. */
  metricsToken: string | null;
  /** Whether the data may lie on a disk of another machine. */
  allowsNetworkFolder: boolean;
};

/** Thrown with every fault at once, so that a person mends the settings in one go. */
export class ConfigError extends Error {}

const names = Object.keys(schema.shape);

/** A setting may come from a file: NAME_FILE holds its path (for secrets mounted by a container). */
function fromFiles(env: NodeJS.ProcessEnv): { merged: NodeJS.ProcessEnv; faults: string[] } {
  const merged = { ...env };
  const faults: string[] = [];
  for (const name of names) {
    const file = env[`${name}_FILE`];
    if (!file || merged[name] !== undefined) continue;
    try {
      merged[name] = readFileSync(file, 'utf8').trim();
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      faults.push(`${name}_FILE: ${file} cannot be read (${code ?? 'an error'})`);
    }
  }
  return { merged, faults };
}

type Settings = z.infer<typeof schema>;

const publicAddress = ({ BASE_URL }: Settings): URL | null => (BASE_URL ? new URL(BASE_URL) : null);
const pathOf = ({ pathname }: URL) => pathname.replace(/\/+$/, '');

function faultsOfAddress(e: Settings): string[] {
  const address = publicAddress(e);
  if (!address) return [];
  const faults: string[] = [];
  if (address.search || address.hash || address.username || address.password)
    faults.push(
      'BASE_URL: must be a host and perhaps a path, like https://example.org/bench, and nothing more.',
    );
  if (!/^(\/[\w.~-]+)*$/.test(pathOf(address)))
    faults.push(`BASE_URL: its path ${address.pathname} may hold letters, figures and . _ ~ - only.`);
  if (
    address.protocol === 'http:' &&
    !isLoopback(address.hostname.replace(/^\[|\]$/g, '')) &&
    e.PLAIN_HTTP === 'no'
  )
    faults.push(
      `BASE_URL: without TLS others on the way to ${address.host} can read passwords. Make it an https address, or set PLAIN_HTTP=yes for a network you trust.`,
    );
  return faults;
}

/** What hangs together among settings that are right by themselves. */
function faultsBetween(e: Settings): string[] {
  const faults: string[] = [];
  if (!isLoopback(e.HOST) && publicAddress(e)?.protocol !== 'https:' && e.PLAIN_HTTP === 'no')
    faults.push(
      `HOST: ${e.HOST} lets others on the network in, and without TLS they can read passwords on their way. Put a reverse proxy with TLS in front and set BASE_URL to its https address, or set PLAIN_HTTP=yes for a network you trust.`,
    );
  faults.push(...faultsOfAddress(e));
  const mail = mailServerOf(e);
  if (typeof mail === 'string') faults.push(mail);
  return faults;
}

/** Settings that do nothing: misspelt ones, and those that another one makes idle. */
export function idleSettings(env: NodeJS.ProcessEnv): string[] {
  const known = new Set([...names, ...names.map((name) => `${name}_FILE`)]);
  const idle = Object.keys(env)
    .filter((name) => !known.has(name))
    .flatMap((name) => {
      const meant = nearestName(name, [...known]);
      return meant ? [`${name} is no setting; ${meant} may be meant.`] : [];
    });
  for (const name of names)
    if (env[name] !== undefined && env[`${name}_FILE`])
      idle.push(`${name}_FILE is not read, because ${name} is set.`);
  const ofMail = Object.keys(mailSettings).filter((name) => name !== 'SMTP_HOST' && env[name] !== undefined);
  if (env.SMTP_HOST === undefined && env.SMTP_HOST_FILE === undefined && ofMail.length > 0)
    idle.push(`${ofMail.join(', ')}: nothing is sent while SMTP_HOST is not set.`);
  return idle.sort();
}

const absolute = (path: string) => (isAbsolute(path) ? path : resolve(process.cwd(), path));

export function readConfig(env: NodeJS.ProcessEnv): Config {
  const { merged, faults } = fromFiles(env);
  const parsed = schema.safeParse(merged);
  if (!parsed.success) faults.push(...parsed.error.issues.map((i) => `${i.path.join('.')}: ${i.message}`));
  else faults.push(...faultsBetween(parsed.data));
  if (!parsed.success || faults.length > 0)
    throw new ConfigError(
      `The settings in the environment are wrong:\n${faults.map((f) => `  ${f}`).join('\n')}`,
    );
  const e = parsed.data;
  const dataDir = absolute(e.DATA_DIR);
  const address = publicAddress(e);
  const basePath = address ? pathOf(address) : '';
  return {
    dataDir,
    host: e.HOST,
    port: e.PORT,
    baseUrl: address && `${address.origin}${basePath}`,
    basePath,
    secureCookies: address?.protocol === 'https:',
    logLevel: e.LOG_LEVEL,
    trustedProxies: e.TRUSTED_PROXIES,
    mail: mailServerOf(e) as MailServer | null,
    backupDir: e.BACKUP_DIR ? absolute(e.BACKUP_DIR) : join(dataDir, 'backups'),
    backupHook: e.BACKUP_HOOK ?? null,
    minFreeBytes: e.MIN_FREE_MB * 1_000_000,
    metricsToken: e.METRICS_TOKEN ?? null,
    allowsNetworkFolder: e.NETWORK_FOLDER === 'yes',
  };
}
