import type { ComponentChildren } from 'preact';
import { classes } from '../layout/classes.ts';

export type ChipLink = { href: string; label: ComponentChildren; help?: string; current?: boolean };

/** A choice of what the page is about: links that look like the chips of a form, so that it works without a script. */
export function ChipLinks(props: { label: string; links: readonly ChipLink[]; tall?: boolean }) {
  const { label, links, tall } = props;
  return (
    <nav class={classes('chip-links', tall && 'chip-links-tall')} aria-label={label}>
      <ul class="chips">
        {links.map((link) => (
          <li key={link.href}>
            <a class="chip" href={link.href} aria-current={link.current ? 'page' : undefined}>
              <span class="chip-face">
                <span class="chip-label">{link.label}</span>
                {link.help && <span class="chip-help">{link.help}</span>}
              </span>
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
}
