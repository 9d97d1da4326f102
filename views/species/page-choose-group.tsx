import { animalGroups } from '../../shared/species/columns.ts';
import { LinkButton } from '../layout/button.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { groupWords } from './say.ts';

/** The first step of a new species: its kind decides which figures the form begins with. */
export function ChooseGroupPage({ furniture }: { furniture: Furniture }) {
  return (
    <Shell
      furniture={furniture}
      title="New species"
      purpose="What kind of animal is it? The form then begins with figures that are common practice for it."
      breadcrumbs={[{ href: '/species', label: 'Species' }]}
    >
      <ul class="choices">
        {animalGroups.map((group) => (
          <li key={group}>
            <LinkButton href={`/species/new?group=${group}`}>{capital(groupWords[group])}</LinkButton>
          </li>
        ))}
      </ul>
    </Shell>
  );
}

const capital = (word: string) => word.charAt(0).toUpperCase() + word.slice(1);
