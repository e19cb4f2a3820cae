/** How the window looks and sounds. */
import { prefer } from '../commands/preferences.js';
import { Dialog } from '../parts/dialog.js';
import { choices, NumberField, Select } from '../parts/fields.js';
import { closeDialog as close, useWindow } from '../state/state.js';
import { T } from '../texts/texts.js';

type VolumeProps = { readonly label: string; readonly value: number; readonly onChange: (value: number) => void };

/** A volume from 0 to 1, shown in percent. */
function Volume({ label, value, onChange }: VolumeProps) {
  const set = (percent: number | undefined) => percent !== undefined && onChange(Math.min(1, Math.max(0, percent / 100)));
  return <NumberField label={`${label} (%)`} min={0} max={100} step={10} value={Math.round(value * 100)} onChange={set} />;
}

export function SettingsDialog() {
  const preferences = useWindow((s) => s.preferences);
  return (
    <Dialog title={T.settings.title} onClose={close}>
      <div className="fields">
        <Select
          label={T.settings.theme}
          value={preferences.theme}
          options={choices(T.settings.themes)}
          onChange={(theme) => prefer({ theme })}
        />
        <NumberField
          label={`${T.settings.text} (%)`}
          min={80}
          max={200}
          step={10}
          value={preferences.text}
          onChange={(text) => text !== undefined && text >= 80 && text <= 200 && prefer({ text: Math.round(text) })}
        />
        <Volume label={T.sound.notes} value={preferences.notes} onChange={(notes) => prefer({ notes })} />
        <Volume label={T.sound.clicks} value={preferences.click} onChange={(click) => prefer({ click })} />
      </div>
    </Dialog>
  );
}
