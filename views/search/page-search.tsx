import { Button } from '../layout/button.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { Found, type FoundProps } from './part-found.tsx';

/** One field for all that is kept; what is found follows the typing. */
export function SearchPage(props: FoundProps & { furniture: Furniture }) {
  const { furniture, ...found } = props;
  return (
    <Shell
      furniture={furniture}
      title="Search"
      purpose="By the beginning of any word; several words must all be found. A whole code leads to its culture at once."
    >
      <search>
        <form class="field" method="get" action="/search">
          <label for="search-words">What are you looking for?</label>
          <div class="search-line">
            <input
              id="search-words"
              name="q"
              type="search"
              value={found.typed}
              maxLength={100}
              autocomplete="off"
              autocapitalize="off"
              spellcheck={false}
              data-focus={found.typed === '' ? 'now' : undefined}
              hx-get="/search"
              hx-trigger="input changed delay:50ms"
              hx-target="#found"
              hx-replace-url="true"
              hx-sync="this:replace"
            />
            <Button kind="main">Search</Button>
          </div>
        </form>
      </search>
      <Found {...found} />
    </Shell>
  );
}
