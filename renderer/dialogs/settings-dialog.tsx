/** How the window looks and sounds. */
import { prefer } from '../commands/preferences.js';
import { Dialog } from '../parts/dialog.js';
import { choices, NumberField, Select } from '../parts/fields.js';
import { closeDialog as close, useWindow } from '../state/state.js';
import { T } from '../texts/texts.js';

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
        <NumberField
          label={`${T.sound.notes} (%)`}
          min={0}
          max={100}
          step={10}
          value={Math.round(preferences.notes * 100)}
          onChange={(notes) => notes !== undefined && prefer({ notes: Math.min(1, Math.max(0, notes / 100)) })}
        />
        <NumberField
          label={`${T.sound.clicks} (%)`}
          min={0}
          max={100}
          step={10}
          value={Math.round(preferences.click * 100)}
          onChange={(click) => click !== undefined && prefer({ click: Math.min(1, Math.max(0, click / 100)) })}
        />
      </div>
    </Dialog>
  );
}
