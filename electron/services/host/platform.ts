/** What the shell and the browser do each in its way: windows, the system's files, printing, and who may touch what. */
import type { Result } from '../../../core/base/issue.js';
import type { EventName, Events } from '../contract/bridge.js';
import type { Answer, Ask, Channel, ChannelOf } from '../contract/questions.js';

/** One window. */
export type Client = { readonly id: string; readonly tell: <E extends EventName>(name: E, event: Events[E]) => void };

/** How questions are answered that come from a window. */
export type Handlers<Of extends Channel> = {
  readonly [C in Of]: (ask: Ask<C>, client: Client) => Result<Answer<C>> | Promise<Result<Answer<C>>>;
};

export type Access = {
  /** Whether this window may read or write there: a path that the user chose, or one inside the folders it was started for. */
  readonly mayUse: (path: string, client: Client) => boolean | Promise<boolean>;
  /** A path that the user chose in some way becomes usable. */
  readonly allow: (path: string, client: Client) => void;
};

/** What only the host itself can do. */
export type Platform = Handlers<ChannelOf<'platform'>> & Access;
