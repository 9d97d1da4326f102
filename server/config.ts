import { readFileSync } from 'node:fs';
import { isAbsolute, resolve } from 'node:path';
import { z } from 'zod';
import { isLoopback } from './plumbing/loopback.ts';
import { type MailServer, mailServerOf, mailSettings } from './plumbing/mail-server.ts';

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
    ),
  ...mailSettings,
});

export type Config = {
  dataDir: string;
  host: string;
  port: number;
  /** Address people use, without a slash at the end; null means "whatever this process listens on". */
  baseUrl: string | null;
  secureCookies: boolean;
  logLevel: z.infer<typeof schema>['LOG_LEVEL'];
  trustedProxies: string[];
  /** Null where no mail server is named: then nothing is sent. */
  mail: MailServer | null;
};

/** Thrown with every fault at once, so that a person mends the settings in one go. */
export class ConfigError extends Error {}

/** A setting may come from a file: NAME_FILE holds its path (for secrets mounted by a container). */
function fromFiles(env: NodeJS.ProcessEnv): NodeJS.ProcessEnv {
  const merged = { ...env };
  for (const name of Object.keys(schema.shape)) {
    const file = env[`${name}_FILE`];
    if (file && merged[name] === undefined) merged[name] = readFileSync(file, 'utf8').trim();
  }
  return merged;
}

export function readConfig(env: NodeJS.ProcessEnv): Config {
  const parsed = schema.safeParse(fromFiles(env));
  if (!parsed.success) {
    const faults = parsed.error.issues.map((i) => `  ${i.path.join('.')}: ${i.message}`);
    throw new ConfigError(`The settings in the environment are wrong:\n${faults.join('\n')}`);
  }
  const e = parsed.data;
  if (!isLoopback(e.HOST) && !e.BASE_URL?.startsWith('https:') && e.PLAIN_HTTP === 'no') {
    throw new ConfigError(
      `HOST=${e.HOST} lets others on the network in, and without TLS they can read passwords on their way. Put a reverse proxy with TLS in front and set BASE_URL to its https address, or set PLAIN_HTTP=yes for a network you trust.`,
    );
  }
  const mail = mailServerOf(e);
  if (typeof mail === 'string') throw new ConfigError(mail);
  return {
    dataDir: isAbsolute(e.DATA_DIR) ? e.DATA_DIR : resolve(process.cwd(), e.DATA_DIR),
    host: e.HOST,
    port: e.PORT,
    baseUrl: e.BASE_URL ? e.BASE_URL.replace(/\/+$/, '') : null,
    secureCookies: e.BASE_URL?.startsWith('https:') ?? false,
    logLevel: e.LOG_LEVEL,
    trustedProxies: e.TRUSTED_PROXIES,
    mail,
  };
}
