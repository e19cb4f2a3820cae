/** Files that a window wished for, and what came of it. */
import type { Issue } from '../../../../core/base/issue.js';

export type BuiltFile = {
  readonly path: string;
  readonly name: string;
  /** 0 where the file has no pages. */
  readonly pages: number;
};

export type Built = {
  readonly files: readonly BuiltFile[];
  /** What was asked for and not written, and why. */
  readonly missing: readonly { readonly label: string; readonly issues: readonly Issue[] }[];
};
