/** The fields that a roster and an ensemble have. */
import type { z } from 'zod';
import type { Result } from '../../../core/base/issue.js';
import { checkFields } from '../../../core/book/check-fields.js';
import type { JsonObject } from '../../../core/book/json.js';
import { ensembleShape } from '../../../core/ensemble/schema.js';
import { rosterShape } from '../../../core/people/schema.js';
import type { CompanionSources } from '../contract/answers/files.js';
import type { CompanionKind } from '../contract/file-kinds.js';

const SHAPES: { readonly [K in CompanionKind]: z.ZodType<CompanionSources[K]> } = { roster: rosterShape, ensemble: ensembleShape };

/** The fields of a companion that this version knows; those that it does not know are warnings. */
export function companionShape<K extends CompanionKind>(kind: K, file: Readonly<JsonObject>): Result<CompanionSources[K]> {
  return checkFields(SHAPES[kind], file);
}
