/** Writes the exercise that is open as notation data, MIDI, sound, slides, braille or words. */
import { useState } from 'react';
import type { Format } from '../../core/export/format-names.js';
import type { ExerciseView } from '../../electron/services/contract/answers/exercise.js';
import { type ExportWish, exportExercise } from '../commands/long-jobs.js';
import { chooseFolder } from '../files/choose-path.js';
import { Dialog } from '../parts/dialog.js';
import { Check, choices, NumberField, Select } from '../parts/fields.js';
import { FolderField, Progress, Results } from '../parts/writing.js';
import { change, closeDialog, useWindow } from '../state/state.js';
import { T } from '../texts/texts.js';

const E = T.export;

type Wish = { -readonly [K in keyof ExportWish]: ExportWish[K] };

/** As chosen the last time: the folder is chosen in a dialog of its own, and this one comes back. */
let last: Wish = { format: 'musicxml', click: true, countIn: 1, drone: false, dark: false, eachKey: false };

const SOUND: readonly Format[] = ['midi', 'wav'];
const SLIDES: readonly Format[] = ['svg', 'png'];

function SoundFields({ wish, set, from }: { readonly wish: Wish; readonly set: (part: Partial<Wish>) => void; readonly from: number }) {
  return (
    <fieldset className="wide group">
      <legend>{E.sound}</legend>
      <div className="fields">
        <NumberField label={E.tempo} min={20} max={400} value={wish.bpm} placeholder={`${from}`} onChange={(bpm) => set({ bpm })} />
        <NumberField label={E.countIn} min={0} max={8} value={wish.countIn} onChange={(countIn) => set({ countIn: countIn ?? 0 })} />
        {wish.format === 'wav' && (
          <NumberField label={E.a4} min={415} max={466} value={wish.a4} placeholder="440" onChange={(a4) => set({ a4 })} />
        )}
        {wish.format === 'wav' && wish.ladder !== undefined && (
          <NumberField label={E.rungs} min={2} max={20} value={wish.ladder} onChange={(ladder) => set({ ladder: ladder ?? 2 })} />
        )}
        <div className="checks">
          <Check label={E.click} checked={wish.click} onChange={(click) => set({ click })} />
          {wish.format === 'wav' && <Check label={E.drone} checked={wish.drone} onChange={(drone) => set({ drone })} />}
          {wish.format === 'wav' && (
            <Check label={E.ladder} checked={wish.ladder !== undefined} onChange={(on) => set({ ladder: on ? 4 : undefined })} />
          )}
        </div>
      </div>
    </fieldset>
  );
}

function SlideFields({ wish, set }: { readonly wish: Wish; readonly set: (part: Partial<Wish>) => void }) {
  return (
    <fieldset className="wide group">
      <legend>{E.slide}</legend>
      <div className="fields">
        <Select label={E.shape} value={wish.shape ?? '16:9'} options={choices(E.shapes)} onChange={(shape) => set({ shape })} />
        <div className="checks">
          <Check label={E.dark} checked={wish.dark} onChange={(dark) => set({ dark })} />
          <Check label={E.eachKey} checked={wish.eachKey} onChange={(eachKey) => set({ eachKey })} />
        </div>
      </div>
    </fieldset>
  );
}

/** What holds for this kind of file; the rest stays as it was chosen for another. */
function wished(wish: Wish): ExportWish {
  const sound = SOUND.includes(wish.format);
  const wav = wish.format === 'wav';
  const slides = SLIDES.includes(wish.format);
  return {
    format: wish.format,
    click: sound && wish.click,
    drone: wav && wish.drone,
    dark: slides && wish.dark,
    eachKey: slides && wish.eachKey,
    ...(sound ? { bpm: wish.bpm, countIn: wish.countIn } : {}),
    ...(wav ? { ladder: wish.ladder, a4: wish.a4 } : {}),
    ...(slides ? { shape: wish.shape } : {}),
  };
}

const chooseAndComeBack = async (): Promise<string | undefined> => {
  const path = await chooseFolder();
  change({ dialog: { kind: 'export' } });
  return path;
};

function ExportForm({ exercise }: { readonly exercise: ExerciseView }) {
  const instrument = useWindow((s) => s.shown?.instrument) ?? '';
  const folder = useWindow((s) => s.preferences.folder);
  const work = useWindow((s) => s.work);
  const bpm = useWindow((s) => s.bpm);
  const [wish, setWish] = useState(last);
  const set = (part: Partial<Wish>) => {
    last = { ...wish, ...part };
    setWish(last);
  };
  const write = async () => {
    if (work) return;
    const place = folder ?? (await chooseAndComeBack());
    if (place !== undefined) await exportExercise(wished({ ...wish, bpm: wish.bpm ?? bpm }), place);
  };
  return (
    <form
      className="stack"
      onSubmit={(event) => {
        event.preventDefault();
        void write();
      }}
    >
      <p className="hint">{E.words(exercise.title || `${exercise.number}`, instrument)}</p>
      <div className="fields">
        <Select label={E.format} wide value={wish.format} options={choices(E.formats)} onChange={(format) => set({ format })} />
        {SOUND.includes(wish.format) && <SoundFields wish={wish} set={set} from={bpm ?? exercise.breathing?.bpm ?? 72} />}
        {SLIDES.includes(wish.format) && <SlideFields wish={wish} set={set} />}
        <FolderField folder={folder} choose={chooseAndComeBack} />
      </div>
      <div className="row end">
        <button type="button" onClick={closeDialog}>
          {T.dialog.close}
        </button>
        <button type="submit" className="main" aria-disabled={work !== undefined}>
          {E.write}
        </button>
      </div>
    </form>
  );
}

export function ExportDialog() {
  const exercise = useWindow((s) => s.shown?.exercise);
  if (!exercise) {
    return (
      <Dialog title={E.title} onClose={closeDialog}>
        <p>{E.none}</p>
      </Dialog>
    );
  }
  return (
    <Dialog title={E.title} wide onClose={closeDialog}>
      <ExportForm exercise={exercise} />
      <Progress />
      <Results kind="export" />
    </Dialog>
  );
}
