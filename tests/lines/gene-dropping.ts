import type { Random } from '../support/random.ts';

/** Genes by the founder's gene they descend from; parts that were mixed keep their weights until they breed. */
type Pool = { weight: number; genes: number[] }[];

/**
 * Gene dropping by single genes (MacCluer et al. 1986), with none of the recursion's algebra: every founder's
 * gene is an allele of its own, every generation draws its genes one by one from the one before (Wright 1931,
 * Fisher 1930). A number of genes is twice the effective size.
 */
export class GeneDropping {
  readonly #pools = new Map<string, Pool>();
  readonly #random: Random;
  #alleles = 0;

  constructor(random: Random) {
    this.#random = random;
  }

  wild(code: string, genes: number): void {
    const own = Array.from({ length: genes }, () => this.#alleles++);
    this.#pools.set(code, [{ weight: 1, genes: own }]);
  }

  /** A new culture of so many genes, each from one of the sources by the animals that came from it. */
  found(code: string, sources: readonly (readonly [string, number])[], genes: number): void {
    const animals = sources.reduce((sum, [, n]) => sum + n, 0);
    const drawn = Array.from({ length: genes }, () => {
      const place = this.#choose(sources.map(([, n]) => n / animals));
      return this.#draw(sources[place]![0]);
    });
    this.#pools.set(code, [{ weight: 1, genes: drawn }]);
  }

  /** So many generations of so many genes. */
  breed(code: string, genes: number, generations: number): void {
    for (let i = 0; i < generations; i += 1) {
      this.#pools.set(code, [{ weight: 1, genes: Array.from({ length: genes }, () => this.#draw(code)) }]);
    }
  }

  /** Of a culture of `own` animals, `added` more come from a source; nothing breeds. */
  add(code: string, own: number, source: string, added: number): void {
    const scaled = (of: string, share: number) =>
      this.#pool(of).map(({ weight, genes }) => ({ weight: weight * share, genes }));
    const [kept, came] = [own / (own + added), added / (own + added)];
    this.#pools.set(code, [...scaled(code, kept), ...scaled(source, came)]);
  }

  /** The chance that a draw from each is the same allele: what two offspring genes share. */
  identity(one: string, other: string): number {
    const [a, b] = [this.#frequencies(one), this.#frequencies(other)];
    let same = 0;
    for (const [allele, frequency] of a) same += frequency * (b.get(allele) ?? 0);
    return same;
  }

  #pool(code: string): Pool {
    const pool = this.#pools.get(code);
    if (pool === undefined) throw new Error(`no pool ${code}`);
    return pool;
  }

  #draw(code: string): number {
    const pool = this.#pool(code);
    const { genes } = pool[this.#choose(pool.map(({ weight }) => weight))]!;
    return genes[Math.floor(this.#random.uniform() * genes.length)]!;
  }

  /** A place in the list, each as likely as its share. */
  #choose(shares: readonly number[]): number {
    let left = this.#random.uniform();
    for (let place = 0; place < shares.length - 1; place += 1) {
      left -= shares[place]!;
      if (left < 0) return place;
    }
    return shares.length - 1;
  }

  #frequencies(code: string): Map<number, number> {
    const frequencies = new Map<number, number>();
    for (const { weight, genes } of this.#pool(code)) {
      for (const allele of genes) {
        frequencies.set(allele, (frequencies.get(allele) ?? 0) + weight / genes.length);
      }
    }
    return frequencies;
  }
}
