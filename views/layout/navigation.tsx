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

/** For everything that is kept; Control and K lead to it. */
const TopSearch = () => (
  <search class="top-search">
    <form class="field" method="get" action="/search">
      <label class="visually-hidden" for="top-search-words">
        Search everything
      </label>
      <input
        id="top-search-words"
        name="q"
        type="search"
        placeholder="Search"
        maxLength={100}
        autocomplete="off"
        autocapitalize="off"
        spellcheck={false}
        aria-keyshortcuts="Control+K Meta+K"
      />
    </form>
  </search>
);

/** How much waits in this browser to be sent; a script fills it. It stands where nothing has to make room for it. */
const KeptCount = () => <div id="kept-count" class="kept-count" role="status" />;

/** On top: the business, the search and the account, the sections under them. On the phone the sections are in the bar at
 * the bottom and in a menu. */
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
      {furniture.nav === 'search' ? <div /> : <TopSearch />}
      <KeptCount />
      <div class="top-account">
        <OwnAccount furniture={furniture} />
      </div>
      <nav class="top-sections" aria-label="Sections">
        <NavList sections={all} furniture={furniture} />
      </nav>
      <a
        class="top-search-link"
        href="/search"
        aria-current={furniture.nav === 'search' ? 'page' : undefined}
      >
        Search
      </a>
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
