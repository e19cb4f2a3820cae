/** Titles and names that try to be something else. */

/** One line each, as a title may be. */
export const TITLES: readonly string[] = [
  '../../../../tmp/twelvefold-outside',
  '/etc/twelvefold-outside',
  '..',
  '.',
  '~',
  '~/outside',
  '..\\..\\outside',
  'C:\\outside',
  'C:outside',
  '\\\\server\\share\\outside',
  'file:///tmp/outside',
  'CON',
  'nul',
  'LPT1',
  'COM0',
  'AUX.pdf',
  'con.twelvefold',
  ' NUL ',
  'CONIN$',
  'a\u0338/b\u2215c\u2044d\uff0fe\uff0e\uff0e',
  'name.pdf.exe',
  '-rf',
  '--out=/tmp',
  '$(touch outside)`touch outside`;touch outside|x',
  '%2e%2e%2foutside',
  'x'.repeat(200),
  '\u{1d11e}'.repeat(100),
  '\u202efdp.exe',
  '\ufeff\u200b\u2060',
  'tr\u0131ck\u0130',
  'trailing. . .',
];

/** Texts that would be more than text where somebody forgets to escape them. */
export const TEXTS: readonly string[] = [
  '</title><script>alert(1)</script>',
  '"><img src=x onerror=alert(1)>',
  "' onload='alert(1)' x='",
  ']]><svg onload="alert(1)"/><![CDATA[',
  '--><script>alert(1)</script><!--',
  '<?xpacket end="w"?><rdf:RDF/>',
  '</rdf:li></rdf:Alt></dc:title><pdf:Producer>x</pdf:Producer>',
  '&lt;script&gt;&#60;b&#62;&amp;&nbsp;&x;',
  '<!DOCTYPE x [<!ENTITY e SYSTEM "file:///etc/passwd">]>&e;',
  ') >> endobj 9 0 obj << /S /JavaScript /JS (app.alert(1)) >> endobj (',
  '\\) /OpenAction << /S /URI /URI (http://example.org/) >>',
  '</work-title><part id="P9"/>',
  'a \ufffe b \uffff c',
  '{{constructor}} <%= 1 %> #{1} $(1) `1`',
];

/** Markdown that HTML would make dangerous. */
export const MARKDOWN: readonly string[] = [
  '[press](javascript:alert(1)) and ![picture](http://example.org/x.png) and <http://example.org/>',
  '<script>alert(1)</script>\n\n<iframe src="http://example.org/"></iframe>\n\n<b onclick="alert(1)">bold</b>',
  '[a]: javascript:alert(1)\n\n[a][a] ![a][a]',
  '```html\n<script>alert(1)</script>\n```\n\n`<img onerror=alert(1)>`',
  '&lt;script&gt; &#60;script&#62; &#x3c;/svg&#x3e;',
  '# <svg/onload=alert(1)>\n\n* "><script>\n\n> ]]>',
];
