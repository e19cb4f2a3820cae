/** What one question of the window is: its shape, who answers it, and with what. */
import type { z } from 'zod';
import type { Fields } from './fields.js';

/**
 * `host`: the services' own, by the disk. `platform`: what the shell and the browser do each in its way. `job`: the work
 * beside the window. `long job`: work in a job of its own, so that the pages follow the typing meanwhile.
 */
export type Answerer = 'host' | 'platform' | 'job' | 'long job';

export type Question<Asked, Answered, By extends Answerer> = {
  readonly by: By;
  readonly shape: (fields: Fields) => z.ZodType<Asked>;
  /** Never there: it carries the type of the answer. */
  readonly answer?: Answered;
};

/** `question(shape, by)<Answer>()`. The shape is made when it is first needed, from fields that the checker brings. */
export function question<Asked, const By extends Answerer>(shape: (fields: Fields) => z.ZodType<Asked>, by: By) {
  let made: z.ZodType<Asked> | undefined;
  return <Answered>(): Question<Asked, Answered, By> => ({
    by,
    shape: (fields) => {
      made ??= shape(fields);
      return made;
    },
  });
}
