import { z } from 'zod';

const severities = ['info', 'low', 'moderate', 'high', 'critical'] as const;

const advisory = z.object({
  source: z.number(),
  name: z.string(),
  title: z.string(),
  url: z.string(),
  severity: z.enum(severities),
});

const report = z.object({
  vulnerabilities: z.record(z.string(), z.object({ via: z.array(z.union([z.string(), advisory])) })),
});

export type Advisory = z.infer<typeof advisory>;

/** An advisory that is known and does not touch us, why, and until when somebody must have looked again. */
export type Allowed = { url: string; why: string; until: string };

export type Judged =
  | { kind: 'no answer'; words: string }
  | { kind: 'judged'; open: Advisory[]; allowed: Advisory[]; milder: Advisory[]; idle: Allowed[] };

/**
 * What the report of `npm audit --json` (version 2) says: advisories of high and critical severity that are open, those
 * on the list, and entries of the list that nothing needs any more. A registry that gives no report is no answer.
 */
export function judgeAudit(json: string, list: readonly Allowed[], today: string): Judged {
  let parsed: unknown;
  try {
    parsed = JSON.parse(json);
  } catch {
    return { kind: 'no answer', words: 'no report came back' };
  }
  const read = report.safeParse(parsed);
  if (!read.success) {
    const said = z.object({ message: z.string() }).safeParse(parsed);
    return { kind: 'no answer', words: said.success ? said.data.message : 'the report cannot be read' };
  }
  const all = new Map<string, Advisory>();
  for (const { via } of Object.values(read.data.vulnerabilities))
    for (const one of via) if (typeof one !== 'string') all.set(one.url, one);
  const standing = new Set(list.filter(({ until }) => until >= today).map(({ url }) => url));
  const grave = [...all.values()].filter(({ severity }) => severity === 'high' || severity === 'critical');
  return {
    kind: 'judged',
    open: grave.filter(({ url }) => !standing.has(url)),
    allowed: grave.filter(({ url }) => standing.has(url)),
    milder: [...all.values()].filter((one) => !grave.includes(one)),
    idle: list.filter(({ url }) => !all.has(url)),
  };
}
