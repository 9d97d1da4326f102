import { type ExampleCulture, sayExample } from '../cultures/say-example.ts';
import type { Furniture } from '../layout/furniture.ts';
import { PaperFoot } from '../layout/paper-foot.tsx';
import { WorkedOut } from '../layout/worked-out.tsx';

/** Where the numbers of the surplus page come from. */
export function HowSurplus({ example, locale }: { example: ExampleCulture | null; locale?: string }) {
  return (
    <WorkedOut of={['surplus', 'population', 'kinship']} so={sayExample(example, { locale })}>
      <p>
        Spare is the largest number of animals that can leave a culture while what stays is above what must
        stay, with the certainty set for the species (usually 90 %), after everything promised to orders. What
        must stay is the larger of a fixed number and a share of what the enclosure holds; at half of it a
        colony grows fastest. A group counts only if there are adults enough for it.
      </p>
      <p>
        The next group is the first week ahead, out of eight, in which one group more is spare. A culture
        whose doubt is the reason says so: counting it may free stock. The drawn line is the estimate's doubt,
        the tick its middle, the notch what must stay.
      </p>
      <p>
        Ordered by commonest genes, each species begins with the cultures that are nearest kin to all that are
        kept (mean kinship, Ballou and Lacy 1995): selling from those first keeps the rare lines. For species
        of females alone it says nothing.
      </p>
    </WorkedOut>
  );
}

/** The same in three lines, for the printed list. */
export const SurplusFoot = ({ furniture }: { furniture: Furniture }) => (
  <PaperFoot furniture={furniture}>
    Animals: worked out from counts and growth, nine times in ten within the brackets. Spare: what is there
    with the certainty set for its species, less what must stay and what is promised, in whole groups. On the
    line: tick the estimate, notch what must stay.
  </PaperFoot>
);
