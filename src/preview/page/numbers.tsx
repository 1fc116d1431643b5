import type { ComponentChildren } from 'preact';

interface NumbersProps {
  readonly label: string | undefined;
  readonly head: readonly string[];
  readonly children: ComponentChildren;
}

/** A table that scrolls within itself. */
export function Numbers({ label, head, children }: NumbersProps) {
  return (
    // biome-ignore lint/a11y/useSemanticElements: no form is here to have a fieldset
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls has to be reached by keys
    <div class="scroll" role="group" tabIndex={0} aria-label={label}>
      <table>
        <thead>
          <tr>
            {head.map((cell) => (
              <th scope="col">{cell}</th>
            ))}
          </tr>
        </thead>
        <tbody>{children}</tbody>
      </table>
    </div>
  );
}
