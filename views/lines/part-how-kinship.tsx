import { WorkedOut } from '../layout/worked-out.tsx';
import type { WorkingName } from '../workings/registry.ts';

type HowKinshipProps = { also?: readonly WorkingName[]; so?: readonly string[] };

/** Where inbreeding and kinship come from, with their sources and what they do not know. */
export function HowKinship({ also = [], so }: HowKinshipProps) {
  return (
    <WorkedOut of={['kinship', ...also]} so={so}>
      <p>
        Inbreeding is the chance that two different copies of a gene, drawn blindly from a culture, come from
        one and the same copy in its founders (Malécot 1948); kinship is the same for one copy from each of
        two cultures. What is kept is one minus that: the share of the founders’ heterozygosity that is left.
        Every start from a few animals and every generation in a small colony takes some: 1 in twice the
        effective size (Wright 1931). The effective size is the number of animals that counts for breeding:
        fewer than are there when one sex is rarer, and when some leave many young and others none. The
        species says by how much.
      </p>
      <p>
        The numbers of animals are the estimates of the diary: what was believed around each quarter’s
        entries, by their harmonic mean, so that a bottleneck weighs as it should (Wright 1938). Founders from
        the wild, from outside or of unknown origin are taken as strangers to all others; bought animals often
        are not, and then the truth is worse. Animals put in from outside, without a culture, are not counted
        as new blood either. It is a calculation over neutral genes, not a test of any animal: watch the young
        as well.
      </p>
    </WorkedOut>
  );
}
