/**
 * Places labels of given sizes as near as can be (least squares) to where they want to be, without overlap and inside
 * the bounds as far as they fit. Wishes are in ascending order; the centres come back in the same order. Labels that
 * are together larger than the bounds stand shoulder to shoulder from the start and run over the end.
 * (Isotonic regression by pooling adjacent violators: Ayer and others, 1955.)
 */
export function spread(wishes: number[], sizes: number[], from: number, to: number): number[] {
  const total = sizes.reduce((sum, size) => sum + size, 0);
  const offsets = sizes.map((size, index) =>
    sizes.slice(0, index).reduce((sum, each) => sum + each, size / 2),
  );
  const pools: { sum: number; count: number }[] = [];
  for (const [index, wish] of wishes.entries()) {
    let pool = { sum: wish - (offsets[index] ?? 0), count: 1 };
    for (let last = pools.at(-1); last && mean(last) > mean(pool); last = pools.at(-1)) {
      pool = { sum: pool.sum + last.sum, count: pool.count + last.count };
      pools.pop();
    }
    pools.push(pool);
  }
  const most = Math.max(from, to - total);
  return pools
    .flatMap((pool) => Array<number>(pool.count).fill(Math.min(Math.max(mean(pool), from), most)))
    .map((start, index) => start + (offsets[index] ?? 0));
}

function mean(pool: { sum: number; count: number }): number {
  return pool.sum / pool.count;
}
