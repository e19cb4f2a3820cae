/** Chosen things as chips that can be taken out, and a choice of those that can still be added. */
import type { Choice } from './fields.js';

type Props = {
  readonly chosen: readonly string[];
  readonly free: readonly Choice[];
  readonly nameOf: (id: string) => string;
  readonly drop: string;
  readonly add: string;
  /** What the list belongs to, in words for a screen reader. */
  readonly of: string;
  readonly onChange: (chosen: string[]) => void;
};

export function ChipList({ chosen, free, nameOf, drop, add, of, onChange }: Props) {
  return (
    <div className="chips">
      {chosen.map((id) => (
        <button
          key={id}
          type="button"
          className="chip"
          title={drop}
          aria-label={`${drop}: ${nameOf(id)}`}
          onClick={() => onChange(chosen.filter((it) => it !== id))}
        >
          {nameOf(id)} ×
        </button>
      ))}
      <select aria-label={`${add}, ${of}`} value="" onChange={(event) => event.target.value && onChange([...chosen, event.target.value])}>
        <option value="">{add} …</option>
        {free.map(({ value, label }) => (
          <option key={value} value={value}>
            {label}
          </option>
        ))}
      </select>
    </div>
  );
}
