/** Do files with faults in them still compile? A fault that the compiler notices needs no test. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import ts from 'typescript';

/** Which of these files, with these texts, have no error of syntax or types: looked at together, which is much quicker. */
export type Compiling = (texts: ReadonlyMap<string, string>) => ReadonlySet<string>;

export function openChecker(): Compiling {
  const config = ts.getParsedCommandLineOfConfigFile(
    'tsconfig.json',
    { noEmit: true, noUnusedLocals: false, noUnusedParameters: false },
    {
      ...ts.sys,
      onUnRecoverableConfigFileDiagnostic: (problem) => {
        throw new Error(ts.flattenDiagnosticMessageText(problem.messageText, '\n'));
      },
    },
  );
  if (!config) throw new Error('tsconfig.json cannot be read');
  const changed = new Map<string, { readonly text: string; readonly version: number }>();
  let version = 0;
  const service = ts.createLanguageService({
    getScriptFileNames: () => config.fileNames,
    getScriptVersion: (name) => String(changed.get(name)?.version ?? 0),
    getScriptSnapshot: (name) => {
      const text = changed.get(name)?.text ?? (ts.sys.fileExists(name) ? readFileSync(name, 'utf8') : undefined);
      return text === undefined ? undefined : ts.ScriptSnapshot.fromString(text);
    },
    getCurrentDirectory: () => process.cwd(),
    getCompilationSettings: () => config.options,
    getDefaultLibFileName: ts.getDefaultLibFilePath,
    fileExists: ts.sys.fileExists,
    readFile: ts.sys.readFile,
    readDirectory: ts.sys.readDirectory,
    directoryExists: ts.sys.directoryExists,
    getDirectories: ts.sys.getDirectories,
  });
  const put = (file: string, text: string): void => {
    changed.set(resolve(file), { text, version: ++version });
  };
  return (texts) => {
    for (const [file, text] of texts) put(file, text);
    const fine = [...texts.keys()].filter((file) => {
      const name = resolve(file);
      return service.getSyntacticDiagnostics(name).length === 0 && service.getSemanticDiagnostics(name).length === 0;
    });
    for (const file of texts.keys()) put(file, readFileSync(file, 'utf8'));
    return new Set(fine);
  };
}
