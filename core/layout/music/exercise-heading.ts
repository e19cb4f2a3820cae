/** What stands over an exercise: number and title, the key order at the right, instruction, and what was left out. */
import type { Pt } from '../../base/units.js';
import { anchorAt, type Frame, type Setting } from '../page/geometry.js';
import type { PageItem, Tag } from '../page/page.js';
import { curved } from '../text/markdown.js';
import { setParagraph } from '../text/paragraph.js';
import { baselineIn, proseHeight, setProse } from '../text/prose.js';
import { lineOf, movedRuns, spanOf, textItems, widthOf } from '../text/text.js';

export type HeadingText = {
  readonly anchor: string;
  readonly number: string;
  readonly title: string;
  /** Set in italic at the right end of the title's line: `circle of fourths from B♭`. */
  readonly aside: string;
  /** Markdown. */
  readonly instruction: string;
  /** Sentences about this player's version, in italic: keys left out, figure turned. */
  readonly notes: readonly string[];
};

export type ExerciseHeading = {
  readonly height: Pt;
  /** White under its last line; none when undefined. */
  readonly tail?: Pt;
  /** Items with the heading's top at y, in a frame of the width it was set for. */
  place(frame: Frame, y: Pt): PageItem[];
};

export function exerciseHeading(text: HeadingText, width: Pt, setting: Setting): ExerciseHeading {
  const { fonts, styles, language } = setting;
  const number = styles['exercise-number'];
  const title = styles['exercise-title'];
  const side = styles.caption;
  const aside = [spanOf(text.aside, side)];
  const asideWidth = text.aside ? widthOf(aside, side.size, fonts) : 0;
  const indent = widthOf([spanOf(text.number, number)], number.size, fonts) + 0.8 * number.size;
  const room = width - indent - (asideWidth > 0 ? asideWidth + 1.5 * side.size : 0);
  const narrow = room < 0.35 * width;
  const lines = setParagraph(
    [spanOf(curved(text.title), title)],
    { width: narrow ? width - indent : room, size: title.size, align: 'left' },
    fonts,
  );
  const instruction = text.instruction
    ? setProse(text.instruction, { width, fonts, styles, language, id: `${text.anchor}-text`, kind: 'instruction', align: 'left' })
    : [];
  const note = text.notes.length > 0 ? `*${text.notes.join(' ')}*` : '';
  const notes = note
    ? setProse(note, { width, fonts, styles, language, id: `${text.anchor}-note`, kind: 'instruction', align: 'left' })
    : [];
  const titleHeight = lines.length * title.leading + (narrow && asideWidth > 0 ? side.leading : 0);
  const textHeight = proseHeight(instruction) + proseHeight(notes);
  const height = titleHeight + title.after + textHeight + (textHeight > 0 ? styles.instruction.after : 0);

  return {
    height,
    place(frame, y) {
      const tag: Tag = { kind: 'element', type: 'H2', id: `${text.anchor}-title` };
      const base = y + baselineIn(title);
      const items: PageItem[] = [
        anchorAt(text.anchor, y),
        ...textItems(lineOf([spanOf(text.number, number)], frame, base, number.size, 'left', fonts), tag),
        ...lines.flatMap((line, i) => textItems(movedRuns(line.runs, frame.left + indent, base + i * title.leading), tag)),
      ];
      if (asideWidth > 0) {
        const asideTag: Tag = { kind: 'element', type: 'P', id: `${text.anchor}-aside` };
        const asideBase = narrow ? y + lines.length * title.leading + baselineIn(side) : base;
        items.push(...textItems(lineOf(aside, frame, asideBase, side.size, 'right', fonts), asideTag));
      }
      let at = y + titleHeight + title.after;
      for (const blocks of [instruction, notes]) {
        for (const block of blocks) {
          items.push(...block.place(frame.left, at));
          at += block.height;
        }
      }
      return items;
    },
  };
}

/** One heading above another. */
export function stackedHeadings(upper: ExerciseHeading, lower: ExerciseHeading | undefined): ExerciseHeading {
  if (!lower) return upper;
  return {
    height: upper.height + lower.height,
    place: (frame, y) => [...upper.place(frame, y), ...lower.place(frame, y + upper.height)],
  };
}

/** A small line under the last system. */
export function exerciseFoot(text: string, anchor: string, width: Pt, { fonts, styles, language }: Setting): ExerciseHeading {
  const blocks = setProse(text, {
    width,
    fonts,
    styles: { ...styles, instruction: styles.caption },
    language,
    id: `${anchor}-foot`,
    kind: 'instruction',
    align: 'left',
  });
  const { before, after } = styles.caption;
  return {
    height: before + proseHeight(blocks) + after,
    // Signs in the text are a little larger than its letters.
    tail: 0.8 * after,
    place(frame, y) {
      return blocks.flatMap((block) => block.place(frame.left, y + before));
    },
  };
}
