import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { mostPhotos } from '../../server/arrivals/receive.ts';
import { runHook } from '../../server/backups/hook.ts';
import { idleSettings, readConfig } from '../../server/config.ts';
import { mostPhotoBytes } from '../../server/plumbing/prepare-photo.ts';
import { longestStopMs } from '../../server/plumbing/stop.ts';
import { clearFolders, freshFolder } from '../backups/shelf.ts';

afterAll(clearFolders);

const root = fileURLToPath(new URL('../..', import.meta.url));
const textOf = (name: string) => readFileSync(join(root, 'ops/running', name), 'utf8');

const proxies = ['Caddyfile', 'Caddyfile-under-path', 'nginx.conf', 'nginx-under-path.conf'];

/** NAME=value pairs of a file, wherever they stand, that are settings of ours. */
const settingsIn = (text: string) =>
  Object.fromEntries(
    [...text.matchAll(/\b([A-Z]{3,}(?:_[A-Z]+)+|HOST|PORT)(?:=|: )(\S+)/g)].map(([, name, value]) => [
      name,
      value,
    ]),
  );

describe('the files for running it', () => {
  it('set settings that there are, and that are right together', () => {
    const container = { ...settingsIn(textOf('Containerfile')), ...settingsIn(textOf('compose.yaml')) };
    const { NODE_ENV: _, ...own } = container;
    expect(Object.keys(own).sort()).toEqual(['BASE_URL', 'DATA_DIR', 'HOST', 'PORT', 'TRUSTED_PROXIES']);
    expect(readConfig(own)).toMatchObject({ host: '0.0.0.0', secureCookies: true, dataDir: '/data' });
    for (const name of proxies) {
      const told = settingsIn(textOf(name));
      expect(readConfig(told)).toMatchObject({ secureCookies: true, trustedProxies: ['127.0.0.1'] });
      expect(idleSettings(told)).toEqual([]);
      expect(textOf(name)).toContain(`127.0.0.1:${readConfig({}).port}`);
      // Room for the largest form there is: a report with its photos.
      const [, most] = /(?:max_size|client_max_body_size) (\d+)m/i.exec(textOf(name)) ?? [];
      expect([name, Number(most) * 1e6 > mostPhotos * mostPhotoBytes]).toEqual([name, true]);
      const host = new URL(told.BASE_URL ?? '').host;
      expect(textOf(name)).toContain(name.startsWith('nginx') ? `server_name ${host};` : `\n${host} {`);
      const path = readConfig(told).basePath;
      expect([name, path]).toEqual([name, name.includes('under-path') ? '/bench' : '']);
      if (path) expect(textOf(name)).toMatch(new RegExp(`(location|handle) ${path}/`));
    }
  });

  it('run it as nobody much, with nothing to write to but its data', () => {
    const container = textOf('Containerfile');
    expect(container).toMatch(/^USER 10001:10001$/m);
    expect(textOf('compose.yaml')).toMatch(/read_only: true[\s\S]*cap_drop: \[ALL\]/);
    for (const path of [...container.matchAll(/"(server\/[\w.]+)"/g)].map(([, one]) => one ?? ''))
      expect(existsSync(join(root, path))).toBe(true);
    const unit = new Map(
      textOf('broodbench.service')
        .split('\n')
        .filter((line) => /^[A-Z]\w+=/.test(line))
        .map((line) => [line.slice(0, line.indexOf('=')), line.slice(line.indexOf('=') + 1)]),
    );
    // systemd.exec(5) and systemd.service(5)
    for (const [name, value] of Object.entries({
      DynamicUser: 'yes',
      ProtectSystem: 'strict',
      NoNewPrivileges: 'yes',
      CapabilityBoundingSet: '',
      UMask: '0077',
      StateDirectory: 'broodbench',
    }))
      expect([name, unit.get(name)]).toEqual([name, value]);
    expect(Number(unit.get('TimeoutStopSec')) * 1000).toBeGreaterThan(longestStopMs);
    expect(unit.get('Environment')).toContain('DATA_DIR=/var/lib/broodbench');
  });

  // OWASP ASVS 5.0, 16.4: what is kept of the log has an end; and no address that opens something stands in one.
  it('keep no more than 100 MB of what the service says, and no addresses', () => {
    const most = /max-size: (\d+)m, max-file: "(\d+)"/.exec(textOf('compose.yaml'));
    expect(Number(most?.[1]) * Number(most?.[2])).toBeLessThanOrEqual(100);
    const composed = textOf('compose.yaml');
    expect(composed.match(/logging: \*logging/g)).toHaveLength(composed.match(/restart:/g)?.length ?? 0);
    // journald.conf(5); LogNamespace= in systemd.exec(5)
    const [, space] = /^LogNamespace=(\w+)$/m.exec(textOf('broodbench.service')) ?? [];
    const journal = textOf(`journald-${space}.conf`);
    expect(journal).toContain(`/etc/systemd/journald@${space}.conf`);
    for (const name of ['SystemMaxUse', 'RuntimeMaxUse'])
      expect(Number(new RegExp(`^${name}=(\\d+)M$`, 'm').exec(journal)?.[1])).toBeLessThanOrEqual(100);
    for (const name of ['nginx.conf', 'nginx-under-path.conf'])
      for (const server of textOf(name).split('server {').slice(1))
        expect([name, /access_log off;\s+error_log \S+ crit;/.test(server)]).toEqual([name, true]);
    for (const name of ['Caddyfile', 'Caddyfile-under-path']) expect(textOf(name)).not.toMatch(/^\s*log\b/m);
  });

  it('close what they open', () => {
    for (const name of proxies) {
      const text = textOf(name).replace(/^\s*#.*$/gm, '');
      expect([name, text.split('{').length]).toEqual([name, text.split('}').length]);
    }
    for (const line of ['nginx.conf', 'nginx-under-path.conf']
      .flatMap((name) => textOf(name).split('\n'))
      .filter((one) => /^\s*[a-z]/.test(one)))
      expect(line).toMatch(/[;{]$/);
  });

  it('send a backup elsewhere, by the program of the settings, under its name only when it is whole', async () => {
    const folder = freshFolder();
    const backup = join(folder, '20261125T110000Z-nightly');
    mkdirSync(backup);
    writeFileSync(join(backup, 'manifest.json'), '{}');
    // In the place of age, so that nothing need be installed.
    mkdirSync(join(folder, 'bin'));
    writeFileSync(join(folder, 'bin', 'age'), '#!/bin/sh\n[ "$1" = -R ] && [ -f "$2" ] && cat > "$4"\n');
    chmodSync(join(folder, 'bin', 'age'), 0o755);
    const key = join(folder, 'key.pub');
    const program = join(folder, 'hook.sh');
    const sample = join(root, 'ops/running/send-backup.sh');
    writeFileSync(
      program,
      `#!/bin/sh\nPATH=${folder}/bin:$PATH BACKUP_KEY_FILE=${key} SEND_TO=${folder} exec ${sample} "$1"\n`,
    );
    chmodSync(program, 0o755);
    expect(statSync(sample).mode & 0o111).toBe(0o111);
    expect(await runHook(program, backup)).not.toBeNull();
    writeFileSync(key, 'age1example');
    expect(await runHook(program, backup)).toBeNull();
    const sent = join(folder, '20261125T110000Z-nightly.tar.age');
    expect(statSync(sent).size).toBeGreaterThan(1_000);
    expect(statSync(sent).mode & 0o077).toBe(0);
    expect(spawnSync('sh', ['-n', sample]).status).toBe(0);
  });
});
