import type { ComponentChildren } from 'preact';
import { LinkButton } from './button.tsx';

export type EmptyProps = {
  title: string;
  step?: { href: string; label: string };
  children?: ComponentChildren;
};

/** Nothing here yet: one sentence and the first step. */
export function Empty({ title, step, children }: EmptyProps) {
  return (
    <div class="empty">
      <p class="empty-title">{title}</p>
      {children && <div class="empty-words">{children}</div>}
      {step && (
        <LinkButton href={step.href} kind="main">
          {step.label}
        </LinkButton>
      )}
    </div>
  );
}
