import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { allowedAdvisories } from '../../ops/audit-allowed.ts';
import { judgeAudit } from '../../ops/audit-report.ts';
import { lockedPackages } from '../../ops/supply.ts';

const packages = lockedPackages();

/** Licences a self-hosted MIT service may be run with. */
const free = new Set([
  'MIT',
  'MIT-0',
  'ISC',
  '0BSD',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'Apache-2.0',
  'BlueOak-1.0.0',
  'Unlicense',
  'PSF-2.0',
  'CC0-1.0',
  'MIT OR Apache-2.0',
  '(MIT OR WTFPL)',
  '(MIT OR CC0-1.0)',
  '(MIT OR Apache-2.0)',
  '(BSD-2-Clause OR MIT OR Apache-2.0)',
]);
/** Others, each with the reason it may be there. */
const besides: Record<string, string> = {
  'date-holidays': 'its data are CC-BY-3.0: named in README.md',
  sharp: 'the image library it loads is LGPL, linked at run time and replaceable',
  'axe-core': 'MPL-2.0, in tests only',
  'ical.js': 'MPL-2.0, in tests only',
  lightningcss: 'MPL-2.0, in tests only',
};
const reasonFor = (name: string) =>
  name.startsWith('@img/sharp-')
    ? besides.sharp
    : name.startsWith('lightningcss')
      ? besides.lightningcss
      : besides[name];

describe('the packages of the lock file', () => {
  it('have licences that let everybody run them', () => {
    const strange = packages
      .filter(({ licence, name }) => !free.has(licence) && reasonFor(name) === undefined)
      .map(({ name, licence }) => `${name}: ${licence || 'none named'}`);
    expect(strange).toEqual([]);
    const mpl = packages.filter(({ licence, isForRunning }) => licence === 'MPL-2.0' && isForRunning);
    expect(mpl).toEqual([]);
    expect(readFileSync('README.md', 'utf8')).toContain('CC BY 3.0');
  });

  it('are held to what was looked at: each by its hash', () => {
    expect(packages.filter(({ integrity }) => !/^sha512-/.test(integrity)).map(({ name }) => name)).toEqual(
      [],
    );
  });

  it('run nothing while they are installed but for those that are named', () => {
    const named = JSON.parse(readFileSync('package.json', 'utf8')).allowScripts as Record<string, boolean>;
    const running = new Set(packages.filter(({ runsOnInstall }) => runsOnInstall).map(({ name }) => name));
    expect([...running].filter((name) => !named[name])).toEqual([]);
    expect(Object.keys(named).filter((name) => !running.has(name))).toEqual([]);
  });
});

describe('the report of known faults', () => {
  const advisory = (severity: string, url: string) => ({
    source: 1,
    name: 'x',
    title: 'a fault',
    url,
    severity,
  });
  // The shape of `npm audit --json`, report version 2 (npm documentation, from memory).
  const report = (...via: unknown[]) =>
    JSON.stringify({ auditReportVersion: 2, vulnerabilities: { x: { via } } });
  const today = '2026-11-25';

  it('stops at what is grave and not on the list, and at a list entry that has run out', () => {
    const grave = advisory('high', 'https://example.org/1');
    const mild = advisory('moderate', 'https://example.org/2');
    const list = [{ url: grave.url, why: 'that part is not used', until: today }];
    expect(judgeAudit(report(grave, mild, 'y'), [], today)).toMatchObject({ open: [grave], milder: [mild] });
    expect(judgeAudit(report(grave), list, today)).toMatchObject({ open: [], allowed: [grave] });
    expect(judgeAudit(report(grave), list, '2026-11-26')).toMatchObject({ open: [grave] });
    expect(judgeAudit(report(), list, today)).toMatchObject({ open: [], idle: list });
  });

  it('is no report where the registry gives none', () => {
    for (const text of ['', 'gone', '{"message":"405 Method Not Allowed","statusCode":405}', '{}'])
      expect(judgeAudit(text, [], today).kind).toBe('no answer');
  });

  it('has reasons for all that is let through', () => {
    for (const { why, until } of allowedAdvisories) {
      expect(why.length).toBeGreaterThan(20);
      expect(until).toMatch(/^\d{4}-\d\d-\d\d$/);
    }
  });
});
