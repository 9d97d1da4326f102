import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Import, importsOf, roomOf, root, sources } from './sources.ts';

const ours = () => sources().flatMap((source) => importsOf(source).filter((entry) => entry.isOurs));
const say = ({ from, to }: Import) => `${from} imports ${to}`;

/** Which rooms each room may look into. */
const mayImport: Record<string, readonly string[]> = {
  shared: ['shared'],
  views: ['shared', 'views'],
  server: ['shared', 'views', 'server'],
  ops: ['shared', 'views', 'server', 'ops'],
  tests: ['shared', 'views', 'server', 'ops', 'tests'],
};

/** Floors of server/: each may import from its own and those below. */
const floors = ['plumbing and schema', 'features', 'routes and jobs', 'app', 'main'] as const;

function floorOf(path: string): number {
  if (/^server\/(plumbing|schema)\/|^server\/config\.ts$/.test(path)) return 0;
  if (/^server\/[^/]+\//.test(path)) return 1;
  if (path === 'server/routes.ts' || path === 'server/jobs.ts') return 2;
  return path === 'server/app.ts' ? 3 : 4;
}

const featureOf = (path: string) => (floorOf(path) === 1 ? path.split('/')[1] : undefined);

const wrongRoom = ({ from, to }: Import) => !mayImport[roomOf(from)]?.includes(roomOf(to));

const wrongFloor = ({ from, to }: Import) =>
  roomOf(from) === 'server' && roomOf(to) === 'server' && floorOf(to) > floorOf(from);

function wrongFeature({ from, to }: Import): boolean {
  const [own, other] = [featureOf(from), featureOf(to)];
  if (own === undefined || other === undefined || own === other) return false;
  return !/\/queries(-[\w-]+)?\.ts$/.test(to);
}

describe('imports', () => {
  it('run one way: shared <- views <- server <- ops, tests', () => {
    expect(ours().filter(wrongRoom).map(say)).toEqual([]);
  });

  it('name files that are there, with their extension', () => {
    const wrong = ours().filter(({ to }) => !existsSync(join(root, to)) || !/\.\w+$/.test(to));
    expect(wrong.map(say)).toEqual([]);
  });

  it(`inside server run one way: ${floors.join(' <- ')}`, () => {
    expect(ours().filter(wrongFloor).map(say)).toEqual([]);
  });

  it('reach from one feature only into the queries of another', () => {
    expect(ours().filter(wrongFeature).map(say)).toEqual([]);
  });

  it('would be caught if they did not', () => {
    const entry = (from: string, to: string) => ({ from, to, isOurs: true });
    expect(wrongRoom(entry('shared/days.ts', 'server/app.ts'))).toBe(true);
    expect(wrongRoom(entry('views/layout/shell.tsx', 'server/app.ts'))).toBe(true);
    expect(wrongRoom(entry('server/app.ts', 'tests/support/random.ts'))).toBe(true);
    expect(wrongFloor(entry('server/plumbing/serve.ts', 'server/people/queries.ts'))).toBe(true);
    expect(wrongFloor(entry('server/people/routes.ts', 'server/routes.ts'))).toBe(true);
    expect(wrongFloor(entry('server/routes.ts', 'server/app.ts'))).toBe(true);
    expect(wrongFeature(entry('server/orders/show.ts', 'server/people/person.ts'))).toBe(true);
    expect(wrongFeature(entry('server/orders/show.ts', 'server/people/queries-links.ts'))).toBe(false);
  });

  it('go in no circle', () => {
    const next = new Map<string, string[]>();
    for (const { from, to } of valueImports()) next.set(from, [...(next.get(from) ?? []), to]);
    const done = new Set<string>();
    const circles: string[] = [];
    const walk = (path: string, trail: string[]) => {
      if (trail.includes(path)) circles.push([...trail.slice(trail.indexOf(path)), path].join(' -> '));
      if (trail.includes(path) || done.has(path)) return;
      for (const to of next.get(path) ?? []) walk(to, [...trail, path]);
      done.add(path);
    };
    for (const path of next.keys()) walk(path, []);
    expect(circles).toEqual([]);
  });
});

/** Without what is imported for its types alone: that is gone when the program runs. */
function valueImports(): Import[] {
  return sources().flatMap(({ path, parsed }) =>
    parsed.module.staticImports
      .filter(({ moduleRequest, entries }) => moduleRequest.value.startsWith('.') && !isForTypes(entries))
      .map(({ moduleRequest }) => ({
        from: path,
        to: join(dirname(path), moduleRequest.value),
        isOurs: true,
      })),
  );
}

const isForTypes = (entries: readonly { isType: boolean }[]) =>
  entries.length > 0 && entries.every((entry) => entry.isType);
