import type { RowResult } from '../protocol';
import type { Desk } from './desk';

interface FieldProps {
  readonly desk: Desk;
  readonly patch: string;
  readonly field: RowResult['field'];
}

/** The colour that should be on screen, as near as this one goes; a notch says where it cannot go all the way. */
export function Field({ desk: { word }, patch, field }: FieldProps) {
  if (!field) return <span class="swatch none" />;
  const words = word('field-of', { patch }) + (field.clipped ? `; ${word('field-clipped')}` : '');
  return (
    <span class={`swatch${field.clipped ? ' clipped' : ''}`} role="img" aria-label={words} title={words} style={{ '--patch': field.hex }} />
  );
}
