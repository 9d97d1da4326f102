import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays } from '../../shared/days.ts';
import type { Figure } from '../../shared/lines/page-figure.ts';
import { type GraphCulture, type GraphEdge, growForest } from '../../shared/lines/page-forest.ts';
import { around, figureBudget, overviewOf } from '../../shared/lines/page-graph.ts';
import { planFigure } from '../../views/lines/graph-plan.ts';

const split = (from: string, to: string, animals = 12): GraphEdge => ({ from, to, kind: 'split', animals });
const mixing = (from: string, to: string): GraphEdge => ({ from, to, kind: 'mixing', animals: 5 });
const culture = (code: string, day = 0, isKept = true): GraphCulture => ({
  code,
  foundedOn: addDays('2025-01-01', day),
  isKept,
});
const codes = ({ nodes }: Figure) => nodes.flatMap((node) => (node.kind === 'culture' ? node.code : []));
const boxes = ({ nodes }: Figure) => nodes.flatMap((node) => (node.kind === 'more' ? node : []));

/** Trees of splits with mixings between them. */
const someForest = fc
  .array(
    fc.record({ parent: fc.option(fc.nat()), kept: fc.boolean(), mixed: fc.option(fc.nat(), { freq: 4 }) }),
    {
      minLength: 1,
      maxLength: 150,
    },
  )
  .map((seeds) => {
    const code = (i: number) => `C${i}`;
    return {
      cultures: seeds.map(({ kept }, i) => culture(code(i), i, kept)),
      edges: seeds.flatMap(({ parent, mixed }, i) => [
        ...(parent === null || i === 0 ? [] : [split(code(parent % i), code(i), 1 + (parent % 30))]),
        ...(mixed === null || mixed % seeds.length === i
          ? []
          : [mixing(code(mixed % seeds.length), code(i))]),
      ]),
    };
  });

function allPages(forest: ReturnType<typeof growForest>): Figure[] {
  const { pages } = overviewOf(forest, 1);
  return Array.from({ length: pages }, (_, i) => overviewOf(forest, i + 1)).flatMap(({ figures }) => figures);
}

describe('the forest of splits', () => {
  it('puts each culture under the parent that gave it most, kept branches first', () => {
    const forest = growForest(
      [
        culture('A'),
        culture('B', 1),
        culture('C', 5),
        culture('D', 6, false),
        culture('E', 2, false),
        culture('F', 9),
      ],
      [
        split('A', 'C', 4),
        split('B', 'C', 9),
        split('B', 'D'),
        split('B', 'E'),
        split('E', 'F'),
        mixing('A', 'B'),
      ],
    );
    expect(forest.roots.map(({ code }) => code)).toEqual(['A', 'B']);
    expect(forest.find('B')?.children.map(({ code }) => code)).toEqual(['E', 'C', 'D']);
    expect(forest.find('B')).toMatchObject({ size: 5, keptInBranch: 3 });
    expect(forest.find('A')).toMatchObject({ size: 1, keptInBranch: 1 });
  });

  it('takes a ring apart instead of walking it for ever', () => {
    const forest = growForest([culture('A'), culture('B')], [split('A', 'B'), split('B', 'A')]);
    expect(forest.roots.map(({ code, size }) => [code, size])).toEqual([['A', 2]]);
  });
});

describe('the overview', () => {
  it('draws ten cultures whole, mixed trees together', () => {
    const cultures = Array.from({ length: 10 }, (_, i) => culture(`C${i}`, i));
    const edges = [
      ...[1, 2, 3].map((i) => split('C0', `C${i}`)),
      ...[5, 6].map((i) => split('C4', `C${i}`)),
      mixing('C5', 'C2'),
    ];
    const { figures, pages } = overviewOf(growForest(cultures, edges), 1);
    expect(pages).toBe(1);
    expect(figures.map((f) => codes(f).length)).toEqual([7, 3]);
    expect(figures[0]?.links).toHaveLength(6);
    expect(figures[0]?.links).toContainEqual({ from: 'C5', to: 'C2', kind: 'mixing' });
    expect(figures[1]?.links).toEqual([]);
  });

  it('loses nobody: each culture is drawn once or counted in one box', () => {
    fc.assert(
      fc.property(someForest, ({ cultures, edges }) => {
        const figures = allPages(growForest(cultures, edges));
        const drawn = figures.flatMap(codes);
        expect(new Set(drawn).size).toBe(drawn.length);
        const counted = figures.flatMap(boxes).reduce((sum, { count }) => sum + count, 0);
        expect(drawn.length + counted).toBe(cultures.length);
        const keys = new Set(cultures.filter(({ isKept }) => isKept).map(({ code }) => code));
        const kept = figures.flatMap(boxes).reduce((sum, box) => sum + box.kept, 0);
        expect(drawn.filter((code) => keys.has(code)).length + kept).toBe(keys.size);
      }),
      { numRuns: 60 },
    );
  });

  it('draws every split and mixing between cultures that are drawn, and links only what is there', () => {
    fc.assert(
      fc.property(someForest, ({ cultures, edges }) => {
        for (const figure of allPages(growForest(cultures, edges))) {
          const shown = new Set(codes(figure));
          const keys = new Set(figure.nodes.map(({ key }) => key));
          expect(keys.size).toBe(figure.nodes.length);
          for (const { from, to } of figure.links) expect(keys.has(from) && keys.has(to)).toBe(true);
          for (const { from, to, kind } of edges)
            if (shown.has(from) && shown.has(to)) expect(figure.links).toContainEqual({ from, to, kind });
        }
      }),
      { numRuns: 30 },
    );
  });

  it('folds branches in which nothing is kept any more before all others', () => {
    const kept = Array.from({ length: figureBudget + 5 }, (_, i) => culture(`K${i}`, 100 + i));
    const dead = Array.from({ length: 12 }, (_, i) => culture(`D${i}`, i, false));
    const edges = [...kept, ...dead].map(({ code }) => split('R', code));
    const [figure] = overviewOf(growForest([culture('R'), ...kept, ...dead], edges), 1).figures;
    expect(codes(figure!)).toHaveLength(figureBudget);
    expect(codes(figure!).filter((code) => code.startsWith('D'))).toEqual([]);
    expect(boxes(figure!)).toMatchObject([{ of: 'R', count: 18, kept: 6, skip: 0 }]);
  });

  it('answers for 2,000 cultures that were all mixed', () => {
    const cultures = Array.from({ length: 2000 }, (_, i) => culture(`C${i}`, i % 900));
    const edges = cultures
      .slice(1)
      .flatMap(({ code }, i) => [
        ...(i % 20 === 0 ? [] : [split(`C${i}`, code)]),
        ...(i % 7 === 0 ? [mixing(`C${(i * 31) % 2000}`, code)] : []),
      ]);
    const figures = allPages(growForest(cultures, edges));
    const counted = figures.flatMap(boxes).reduce((sum, { count }) => sum + count, 0);
    expect(figures.flatMap(codes).length + counted).toBe(2000);
  });
});

describe('around one culture', () => {
  const chain = Array.from({ length: 9 }, (_, i) => culture(`C${i}`, i));
  const links = chain.slice(1).map(({ code }, i) => split(`C${i}`, code));

  it('goes so many steps back and on, and says where it stopped', () => {
    const figure = around(growForest(chain, links), 'C4', { up: 2, down: 1, skip: 0 })!;
    expect(codes(figure)).toEqual(['C2', 'C3', 'C4', 'C5']);
    expect(figure.nodes).toContainEqual({ kind: 'elsewhere', key: 'from C1', code: 'C1' });
    expect(boxes(figure)).toMatchObject([{ of: 'C5', count: 3 }]);
    expect(around(growForest(chain, links), 'C99', { up: 2, down: 1, skip: 0 })).toBeNull();
    expect(codes(around(growForest(chain, links), 'C4', { up: 0, down: 0, skip: 0 })!)).toEqual(['C4']);
  });

  it('follows mixings both ways', () => {
    const forest = growForest(
      [...chain, culture('X'), culture('Y')],
      [...links, mixing('X', 'C4'), mixing('C4', 'Y')],
    );
    const figure = around(forest, 'C4', { up: 1, down: 1, skip: 0 })!;
    expect(new Set(codes(figure))).toEqual(new Set(['X', 'C3', 'C4', 'C5', 'Y']));
    expect(figure.links).toContainEqual({ from: 'X', to: 'C4', kind: 'mixing' });
    expect(figure.links).toContainEqual({ from: 'C4', to: 'Y', kind: 'mixing' });
  });

  it('leads through all children, however many', () => {
    const many = Array.from({ length: 130 }, (_, i) => culture(`K${i}`, i));
    const forest = growForest(
      [culture('R'), ...many],
      many.map(({ code }) => split('R', code)),
    );
    const seen = new Set<string>();
    let skip = 0;
    for (let walks = 0; walks < 20; walks += 1) {
      const figure = around(forest, 'R', { up: 1, down: 3, skip })!;
      for (const code of codes(figure)) seen.add(code);
      expect(codes(figure).length + boxes(figure).reduce((sum, { count }) => sum + count, 0)).toBe(131);
      const next = boxes(figure).find(({ key }) => key.startsWith('more'));
      if (!next) break;
      expect(next.skip).toBeGreaterThan(skip);
      skip = next.skip;
    }
    expect(seen.size).toBe(131);
  });
});

describe('laying out', () => {
  it('places every box inside the sheet, none upon another, links from side to side', () => {
    fc.assert(
      fc.property(someForest, ({ cultures, edges }) => {
        for (const figure of overviewOf(growForest(cultures, edges), 1).figures) {
          const plan = planFigure(figure);
          expect(plan.nodes).toHaveLength(figure.nodes.length);
          expect(plan.links).toHaveLength(figure.links.length);
          for (const [i, a] of plan.nodes.entries()) {
            expect(a.x >= 0 && a.y >= 0 && a.x + a.width <= plan.width && a.y + a.height <= plan.height).toBe(
              true,
            );
            for (const b of plan.nodes.slice(i + 1)) {
              const apart =
                a.x + a.width <= b.x ||
                b.x + b.width <= a.x ||
                a.y + a.height <= b.y ||
                b.y + b.height <= a.y;
              expect(apart).toBe(true);
            }
          }
          for (const { points } of plan.links) expect(points.length).toBeGreaterThanOrEqual(2);
        }
      }),
      { numRuns: 8 },
    );
  });

  it('draws a tree without links that cross', () => {
    fc.assert(
      fc.property(someForest, ({ cultures, edges }) => {
        const splits = edges.filter(({ kind }) => kind === 'split');
        for (const figure of overviewOf(growForest(cultures, splits), 1).figures) {
          const { nodes, links } = planFigure(figure);
          const at = new Map(nodes.map(({ node, x, y, height }) => [node.key, { x, y: y + height / 2 }]));
          const ways = links.map(({ from, to }) => ({ from: at.get(from)!, to: at.get(to)! }));
          for (const [i, a] of ways.entries())
            for (const b of ways.slice(i + 1)) {
              if (Math.abs(a.from.x - b.from.x) > 40) continue;
              expect((a.from.y - b.from.y) * (a.to.y - b.to.y)).toBeGreaterThanOrEqual(0);
            }
        }
      }),
      { numRuns: 8 },
    );
  });
});
