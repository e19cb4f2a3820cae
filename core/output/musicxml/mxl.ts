/** Compressed MusicXML (`.mxl`): a zip archive whose container names the score (W3C MusicXML 4.0, compressed files). */

import { writeZip } from '../zip.js';
import { el, xmlFile } from './xml-tree.js';

export const MXL_TYPE = 'application/vnd.recordare.musicxml';
export const CONTAINER = 'META-INF/container.xml';

/** `name` is the file name of the score inside, without its ending; `date` is an ISO day. */
export function mxl(musicxml: string, name: string, date: string): Uint8Array {
  const score = `${name}.musicxml`;
  const container = xmlFile(
    el('container', {}, el('rootfiles', {}, el('rootfile', { 'full-path': score, 'media-type': `${MXL_TYPE}+xml` }))),
  );
  const utf8 = new TextEncoder();
  return writeZip(
    [
      { name: 'mimetype', bytes: utf8.encode(MXL_TYPE), stored: true },
      { name: CONTAINER, bytes: utf8.encode(container) },
      { name: score, bytes: utf8.encode(musicxml) },
    ],
    date,
  );
}
