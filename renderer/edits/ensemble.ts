/** Edits of an ensemble as functions of its source: a new source, the old one untouched. */
import type { ChairSource, EnsembleSource } from '../../core/ensemble/schema.js';
import { recordsIn, withFields } from './list.js';

/** A new ensemble of these instruments; two flutes when there are too few. */
export const newEnsemble = (name: string, instruments: readonly string[]): EnsembleSource => ({
  format: 'twelvefold-ensemble',
  version: 1,
  name,
  misfit: 'leave-out',
  chairs: [...instruments, ...['flute', 'flute'].slice(0, Math.max(0, 2 - instruments.length))].map((instrument) => ({ instrument })),
  breathing: { plan: 'together' },
});

export const CHAIRS = recordsIn<EnsembleSource, ChairSource>(
  (ensemble) => ensemble.chairs,
  (ensemble, chairs) => ({ ...ensemble, chairs }),
  ['instrument'],
);

/** Chairs that stay together; chairs in none of them stay free. */
export const BONDS = recordsIn<EnsembleSource, NonNullable<EnsembleSource['keep']>[number]>(
  (ensemble) => ensemble.keep ?? [],
  (ensemble, keep) => withFields(ensemble, { keep }),
  ['chairs', 'together'],
);
