import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ConfigError, readConfig } from '../../server/config.ts';
import { ownAddress } from '../../server/plumbing/own-address.ts';

describe('the settings of the environment', () => {
  it('may all be left out', () => {
    const config = readConfig({});
    expect(config).toMatchObject({ host: '127.0.0.1', port: 4780, baseUrl: null, secureCookies: false });
    expect(config.trustedProxies).toEqual([]);
    expect(config.dataDir).toBe(join(process.cwd(), 'data'));
    expect(ownAddress(config)).toBe('http://127.0.0.1:4780');
  });

  it('say where people reach the service', () => {
    const config = readConfig({
      BASE_URL: 'https://bench.example.org/',
      HOST: '0.0.0.0',
      TRUSTED_PROXIES: '10.0.0.1, ::1',
    });
    expect(config).toMatchObject({ baseUrl: 'https://bench.example.org', secureCookies: true });
    expect(config.trustedProxies).toEqual(['10.0.0.1', '::1']);
    expect(ownAddress(config)).toBe('https://bench.example.org');
    expect(ownAddress(readConfig({ HOST: '::1', PORT: '80' }))).toBe('http://[::1]:80');
  });

  it('may give the address a path, and say nothing else with it', () => {
    const under = readConfig({ BASE_URL: 'HTTPS://Example.org:443/bench/stock//' });
    expect(under).toMatchObject({ basePath: '/bench/stock', secureCookies: true });
    expect(ownAddress(under)).toBe('https://example.org/bench/stock');
    expect(readConfig({ BASE_URL: 'https://example.org' }).basePath).toBe('');
    for (const wrong of [
      'https://example.org/?x=1',
      'https://example.org/#x',
      'https://somebody@example.org/',
      'https://example.org/a//b',
      'https://example.org/a%2Fb',
      'https://example.org/a;b',
    ])
      expect(() => readConfig({ BASE_URL: wrong }), wrong).toThrow(/BASE_URL/);
  });

  it('say which proxies are believed by their addresses, never all the world', () => {
    const trusted = (list: string) => readConfig({ TRUSTED_PROXIES: list }).trustedProxies;
    expect(trusted('172.30.0.0/24, fd00::/8,::1')).toEqual(['172.30.0.0/24', 'fd00::/8', '::1']);
    for (const wrong of ['caddy', '0.0.0.0/0', '::/0', '10.0.0', '10.0.0.1/33', '10.0.0.1/8/8', '*', 'true'])
      expect(() => trusted(wrong), wrong).toThrow(/TRUSTED_PROXIES/);
  });

  it('may come from files', () => {
    const folder = mkdtempSync(join(tmpdir(), 'settings-'));
    writeFileSync(join(folder, 'port'), '4999\n');
    expect(readConfig({ PORT_FILE: join(folder, 'port') }).port).toBe(4999);
    rmSync(folder, { recursive: true });
  });

  it('are refused with every fault at once', () => {
    const wrong = () => readConfig({ PORT: '99999', LOG_LEVEL: 'loud', BASE_URL: 'javascript:alert(1)' });
    expect(wrong).toThrow(ConfigError);
    for (const name of ['PORT', 'LOG_LEVEL', 'BASE_URL']) expect(wrong).toThrow(name);
  });

  it('do not open passwords to a network by oversight', () => {
    expect(() => readConfig({ HOST: '0.0.0.0' })).toThrow(/PLAIN_HTTP=yes/);
    expect(() => readConfig({ HOST: '192.0.2.1', BASE_URL: 'http://192.0.2.1:4780' })).toThrow(/without TLS/);
    expect(() => readConfig({ BASE_URL: 'http://bench.example.org' })).toThrow(/can read passwords/);
    expect(readConfig({ BASE_URL: 'http://bench.example.org', PLAIN_HTTP: 'yes' }).secureCookies).toBe(false);
    for (const here of ['http://localhost:4780', 'http://127.0.0.1', 'http://[::1]:4780/bench'])
      expect(readConfig({ BASE_URL: here }).secureCookies).toBe(false);
    expect(readConfig({ HOST: '0.0.0.0', PLAIN_HTTP: 'yes' }).host).toBe('0.0.0.0');
    for (const host of ['localhost', '127.0.0.2', '::1']) expect(readConfig({ HOST: host }).host).toBe(host);
  });
});
