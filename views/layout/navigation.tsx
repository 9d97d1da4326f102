import { Form } from './form.tsx';
import type { Furniture } from './furniture.ts';
import { barLength, type Section, sectionsFor } from './sections.ts';

function Waiting({ count }: { count: number | undefined }) {
  if (!count) return null;
  return (
    <span class="waiting">
      {count}
      <span class="visually-hidden"> waiting</span>
    </span>
  );
}

function NavLink({ section, furniture }: { section: Section; furniture: Furniture }) {
  return (
    <a href={section.href} aria-current={section.key === furniture.nav ? 'page' : undefined}>
      {section.label} <Waiting count={furniture.waiting?.[section.key]} />
    </a>
  );
}

function NavList(props: { sections: readonly Section[]; furniture: Furniture }) {
  return (
    <ul class="nav-list">
      {props.sections.map((section) => (
        <li key={section.key}>
          <NavLink section={section} furniture={props.furniture} />
        </li>
      ))}
    </ul>
  );
}

function OwnAccount({ furniture }: { furniture: Furniture }) {
  if (!furniture.who) return null;
  return (
    <div class="own-account">
      <a href="/account" aria-current={furniture.nav === 'account' ? 'page' : undefined}>
        <span class="visually-hidden">Your account: </span>
        {furniture.who.name}
      </a>
      <Form furniture={furniture} action="/sign-out" class="sign-out">
        <button type="submit" class="button button-quiet">
          Sign out
        </button>
      </Form>
    </div>
  );
}

/** How much waits in this browser to be sent; a script fills it. It stands where nothing has to make room for it. */
const KeptCount = () => <div id="kept-count" class="kept-count" role="status" />;

/** Words on top. On the phone only the business name and a menu with what the bar at the bottom lacks. */
export function TopNavigation({ furniture }: { furniture: Furniture }) {
  const who = furniture.who;
  if (!who) {
    return (
      <header class="top">
        <span class="business">{furniture.businessName}</span>
        <KeptCount />
      </header>
    );
  }
  const all = sectionsFor(who.role);
  const rest = all.slice(barLength);
  return (
    <header class="top">
      <a class="business" href="/">
        {furniture.businessName}
      </a>
      <div class="top-words">
        <nav aria-label="Sections">
          <NavList sections={all} furniture={furniture} />
        </nav>
        <OwnAccount furniture={furniture} />
      </div>
      <KeptCount />
      <details class="top-menu">
        <summary>Menu</summary>
        <div class="top-menu-sheet">
          {rest.length > 0 && (
            <nav aria-label="More sections">
              <NavList sections={rest} furniture={furniture} />
            </nav>
          )}
          <OwnAccount furniture={furniture} />
        </div>
      </details>
    </header>
  );
}

/** The bar at the bottom of a phone: the four sections a helper needs. */
export function BarNavigation({ furniture }: { furniture: Furniture }) {
  return (
    <nav class="bar" aria-label="Main sections">
      <NavList sections={sectionsFor('helper').slice(0, barLength)} furniture={furniture} />
    </nav>
  );
}
