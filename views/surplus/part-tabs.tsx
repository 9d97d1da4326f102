import { ChipLinks } from '../cultures/part-chip-links.tsx';

type Tabs = { current: 'spare' | 'count-next'; mayOrder?: boolean };

/** The views of the surplus; what others may read of it is the owner's. */
export function SurplusTabs({ current, mayOrder = false }: Tabs) {
  return (
    <ChipLinks
      label="Views of the surplus"
      links={[
        { href: '/surplus', label: 'What can be spared', current: current === 'spare' },
        { href: '/surplus/count-next', label: 'What to count next', current: current === 'count-next' },
        ...(mayOrder ? [{ href: '/offers', label: 'Availability list', current: false }] : []),
      ]}
    />
  );
}
