import { ChipLinks } from '../cultures/part-chip-links.tsx';

/** The two views of the surplus. */
export function SurplusTabs({ current }: { current: 'spare' | 'count-next' }) {
  return (
    <ChipLinks
      label="Views of the surplus"
      links={[
        { href: '/surplus', label: 'What can be spared', current: current === 'spare' },
        { href: '/surplus/count-next', label: 'What to count next', current: current === 'count-next' },
      ]}
    />
  );
}
