import { timingSafeEqual } from 'node:crypto';
import { statSync } from 'node:fs';
import { join } from 'node:path';
import type { FastifyInstance } from 'fastify';
import { collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client';
import { databaseName } from '../../shared/backups/manifest.ts';
import type { Config } from '../config.ts';
import { notFound } from '../plumbing/errors.ts';
import { sha256 } from '../plumbing/sessions.ts';
import { type HealthParts, healthOf } from './health.ts';

type Where = Pick<Config, 'metricsToken' | 'dataDir'>;

const same = (a: string, b: string) => timingSafeEqual(Buffer.from(sha256(a)), Buffer.from(sha256(b)));

/** Values that are looked at when somebody asks. */
function addGauges(registry: Registry, parts: HealthParts, database: string): void {
  const { keeper, disk, clock } = parts;
  const add = (name: string, help: string, read: () => number | null) =>
    new Gauge({
      name: `broodbench_${name}`,
      help,
      registers: [registry],
      collect() {
        const value = read();
        if (value === null) this.remove();
        else this.set(value);
      },
    });
  const sizeOf = (path: string) => statSync(path, { throwIfNoEntry: false })?.size ?? 0;
  add('ready', 'Whether the service can work: 1 or 0.', () => Number(healthOf(parts).ready));
  add('paused', 'Whether the records are only read, as whoever runs the service has asked: 1 or 0.', () =>
    Number(parts.pausing.now() !== null),
  );
  add('mails_late', 'Whether a mail has waited for more than an hour: 1 or 0.', () =>
    Number(healthOf(parts).mails === 'late'),
  );
  add('database_bytes', 'Size of the database.', () => sizeOf(database));
  add('database_log_bytes', 'Size of what was written and not yet put in its place.', () =>
    sizeOf(`${database}-wal`),
  );
  add('disk_free_bytes', 'Room on the disk of the data.', () => disk?.freeBytes() ?? null);
  add('backup_proven_age_seconds', 'Age of the newest backup that was restored and held together.', () => {
    const at = keeper?.lastProvenAt() ?? null;
    return at === null ? null : Math.round((clock.now() - at) / 1000);
  });
  add('backups', 'Backups that are kept.', () => keeper?.list().length ?? null);
}

/** For a scraper that shows the token of the settings (Prometheus text format); for everybody else nothing is there. */
export async function serveMetrics(
  app: FastifyInstance,
  { metricsToken: token, dataDir }: Where,
  parts: HealthParts,
) {
  if (token === null) return;
  const registry = new Registry();
  collectDefaultMetrics({ register: registry });
  addGauges(registry, parts, join(dataDir, databaseName));
  const requests = new Histogram({
    name: 'broodbench_request_seconds',
    help: 'Time to answer, by the pattern of the address; never by what was asked for.',
    labelNames: ['method', 'route', 'status'],
    buckets: [0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 10],
    registers: [registry],
  });
  app.addHook('onResponse', async (request, reply) => {
    const labels = {
      method: request.method,
      route: request.routeOptions.url ?? 'unknown',
      status: `${Math.floor(reply.statusCode / 100)}xx`,
    };
    requests.observe(labels, reply.elapsedTime / 1000);
  });
  app.get('/metrics', { config: { access: 'anyone', beforeSetUp: true } }, async (request, reply) => {
    const shown = /^Bearer (.{1,400})$/.exec(request.headers.authorization ?? '')?.[1];
    if (shown === undefined || !same(shown, token)) throw notFound();
    return reply.type(registry.contentType).send(await registry.metrics());
  });
}
