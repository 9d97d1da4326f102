import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { type WorkingName, workings } from './registry.ts';

const List = ({ items }: { items: readonly string[] }) => (
  <ul>
    {items.map((item) => (
      <li key={item}>{item}</li>
    ))}
  </ul>
);

/** One calculation in full. */
export function WorkingPage({ furniture, name }: { furniture: Furniture; name: WorkingName }) {
  const { title, answers, inputs, formula, changes, sources, calculations = [] } = workings[name];
  return (
    <Shell
      furniture={furniture}
      title={title}
      purpose={answers}
      breadcrumbs={[{ href: '/workings', label: 'How numbers are worked out' }]}
    >
      <h2>What goes in</h2>
      <List items={inputs} />
      <h2>How it becomes the answer</h2>
      {formula.map((words) => (
        <p key={words}>{words}</p>
      ))}
      <h2>What would change it</h2>
      <p>{changes}</p>
      <h2>Where we have it from</h2>
      <List items={sources} />
      {calculations.length > 0 && (
        <>
          <h2>Try it by itself</h2>
          <p>On the machine it runs on, the command line answers the same questions with any figures:</p>
          <ul>
            {calculations.map((one) => (
              <li key={one}>
                <code>npm run --silent calc -- {one} --schema</code>
              </li>
            ))}
          </ul>
        </>
      )}
      <p class="quiet">
        It helps to decide, it does not decide. The values that went in stand under “How is this worked out?”
        on the page of each number.
      </p>
    </Shell>
  );
}
