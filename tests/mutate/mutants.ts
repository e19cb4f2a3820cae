/** Small faults that can be put into a file, found in its syntax tree: each is one piece of text in place of another. */
import ts from 'typescript';

export type Mutant = {
  /** From the root of the repository: `core/theory/pitch.ts`. */
  readonly file: string;
  readonly line: number;
  /** Kind of fault: `number`, `comparison`, `branches` … */
  readonly kind: string;
  readonly start: number;
  readonly end: number;
  readonly was: string;
  readonly text: string;
};

type Change = { readonly kind: string; readonly node: { readonly start: number; readonly end: number }; readonly text: string };

const OPERATORS: Readonly<Record<string, readonly [kind: string, ...others: string[]]>> = {
  '+': ['arithmetic', '-'],
  '-': ['arithmetic', '+'],
  '*': ['arithmetic', '/'],
  '/': ['arithmetic', '*'],
  '%': ['arithmetic', '*'],
  '+=': ['arithmetic', '-='],
  '-=': ['arithmetic', '+='],
  '*=': ['arithmetic', '/='],
  '<': ['comparison', '<=', '>'],
  '<=': ['comparison', '<', '>'],
  '>': ['comparison', '>=', '<'],
  '>=': ['comparison', '>', '<'],
  '===': ['comparison', '!=='],
  '!==': ['comparison', '==='],
  '&&': ['logic', '||'],
  '||': ['logic', '&&'],
  '??': ['logic', '&&'],
};

const METHODS: Readonly<Record<string, string>> = {
  min: 'max',
  max: 'min',
  floor: 'ceil',
  ceil: 'floor',
  round: 'floor',
  some: 'every',
  every: 'some',
  find: 'findLast',
  findLast: 'find',
  findIndex: 'findLastIndex',
  findLastIndex: 'findIndex',
  startsWith: 'endsWith',
  endsWith: 'startsWith',
  toLowerCase: 'toUpperCase',
  push: 'unshift',
};

/** Methods that may be left out: what they are called on stays. */
const LEFT_OUT = new Set(['filter', 'sort', 'reverse', 'toReversed', 'toSorted', 'slice', 'trim', 'toLowerCase']);

/** What is told to programmers only, and what is no part of the program that runs. */
const isSilent = (node: ts.Node): boolean =>
  ts.isTypeNode(node) ||
  ts.isInterfaceDeclaration(node) ||
  ts.isTypeAliasDeclaration(node) ||
  ts.isImportDeclaration(node) ||
  (ts.isExportDeclaration(node) && node.moduleSpecifier !== undefined) ||
  (ts.isCallExpression(node) && node.expression.getText() === 'assert') ||
  ts.isThrowStatement(node);

/** Another number: the next one of a whole number, half as much again of a fraction. */
function otherNumber(text: string): string {
  const value = Number(text);
  if (!Number.isInteger(value)) return String(Number((value * 1.5).toPrecision(6)));
  return text.startsWith('0x') ? `0x${(value ^ 1).toString(16)}` : String(value + 1);
}

/** A table in one text: one of its numbers changed, or else one of its words, in every fourth line. */
function inTable(text: string, start: number): Change[] {
  return [...text.matchAll(/(?:\d+(?:\.\d+)?|[a-z]{4,})(?=[^\n]*$)/gm)]
    .filter((_, i) => i % 4 === 0)
    .map((match) => {
      const at = start + match.index;
      const [word] = match;
      return { kind: 'table', node: { start: at, end: at + word.length }, text: /^\d/.test(word) ? otherNumber(word) : word.slice(1) };
    });
}

const spanOf = (node: ts.Node): Change['node'] => ({ start: node.getStart(), end: node.getEnd() });

function ofList(items: ts.NodeArray<ts.Node>, textOf: (node: ts.Node) => ts.Node): Change[] {
  return items.slice(1).flatMap((item, i): Change[] => {
    const [before, after] = [textOf(items[i] as ts.Node), textOf(item)];
    if (before.getText() === after.getText()) return [];
    const between = before.getSourceFile().text.slice(before.getEnd(), after.getStart());
    const text = after.getText() + between + before.getText();
    return [{ kind: 'exchange', node: { start: before.getStart(), end: after.getEnd() }, text }];
  });
}

/** Two neighbouring fields of an object have each other's value. */
function ofFields(node: ts.ObjectLiteralExpression): Change[] {
  const fields = node.properties.filter(ts.isPropertyAssignment);
  return fields.slice(1).flatMap((field, i): Change[] => {
    const before = fields[i] as ts.PropertyAssignment;
    const [a, b] = [before.initializer.getText(), field.initializer.getText()];
    if (a === b) return [];
    const { text } = node.getSourceFile();
    const changed = b + text.slice(before.initializer.getEnd(), field.initializer.getStart()) + a;
    return [{ kind: 'exchange', node: { start: before.initializer.getStart(), end: field.initializer.getEnd() }, text: changed }];
  });
}

function ofLiteral(node: ts.Node): Change[] {
  if (ts.isNumericLiteral(node)) return [{ kind: 'number', node: spanOf(node), text: otherNumber(node.getText()) }];
  if (node.kind === ts.SyntaxKind.TrueKeyword) return [{ kind: 'boolean', node: spanOf(node), text: 'false' }];
  if (node.kind === ts.SyntaxKind.FalseKeyword) return [{ kind: 'boolean', node: spanOf(node), text: 'true' }];
  if (ts.isNoSubstitutionTemplateLiteral(node) && node.text.includes('\n')) return inTable(node.getText(), node.getStart());
  if (ts.isStringLiteral(node) || ts.isNoSubstitutionTemplateLiteral(node) || ts.isTemplateExpression(node)) {
    return [{ kind: 'text', node: spanOf(node), text: node.getText().length > 2 ? "''" : "'?'" }];
  }
  return [];
}

function ofExpression(node: ts.Node): Change[] {
  if (ts.isBinaryExpression(node)) {
    const [kind, ...others] = OPERATORS[node.operatorToken.getText()] ?? [];
    return kind === undefined ? [] : others.map((text) => ({ kind, node: spanOf(node.operatorToken), text }));
  }
  if (
    ts.isPrefixUnaryExpression(node) &&
    (node.operator === ts.SyntaxKind.ExclamationToken || node.operator === ts.SyntaxKind.MinusToken)
  ) {
    return [{ kind: 'sign', node: spanOf(node), text: node.operand.getText() }];
  }
  if (ts.isConditionalExpression(node)) {
    const { condition, whenTrue, whenFalse } = node;
    const text = `${condition.getText()} ? ${whenFalse.getText()} : ${whenTrue.getText()}`;
    return [{ kind: 'branches', node: spanOf(node), text }];
  }
  if (ts.isCallExpression(node) && ts.isPropertyAccessExpression(node.expression)) {
    const { name, expression } = node.expression;
    const other = METHODS[name.text];
    return [
      ...(other === undefined ? [] : [{ kind: 'method', node: spanOf(name), text: other }]),
      ...(LEFT_OUT.has(name.text) ? [{ kind: 'method', node: spanOf(node), text: expression.getText() }] : []),
    ];
  }
  return [];
}

function ofStatement(node: ts.Node): Change[] {
  if (ts.isIfStatement(node) || ts.isWhileStatement(node)) {
    const { expression } = node;
    const never: Change = { kind: 'condition', node: spanOf(expression), text: `(${expression.getText()}) && false` };
    return ts.isIfStatement(node) ? [never, { ...never, text: `(${expression.getText()}) || true` }] : [never];
  }
  if (ts.isExpressionStatement(node)) return [{ kind: 'removal', node: spanOf(node), text: ';' }];
  return [];
}

/** Every fault of one file. `file` is its name in reports. */
export function mutantsOf(file: string, text: string): Mutant[] {
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
  const found: Mutant[] = [];
  const visit = (node: ts.Node): void => {
    if (isSilent(node)) return;
    const changes = [
      ...(ts.isPropertyAssignment(node.parent ?? node) && (node.parent as ts.PropertyAssignment).name === node ? [] : ofLiteral(node)),
      ...ofExpression(node),
      ...ofStatement(node),
      ...(ts.isArrayLiteralExpression(node) ? ofList(node.elements, (item) => item) : []),
      ...(ts.isObjectLiteralExpression(node) ? ofFields(node) : []),
    ];
    for (const { kind, node: at, text: changed } of changes) {
      const { line } = source.getLineAndCharacterOfPosition(at.start);
      found.push({ file, line: line + 1, kind, ...at, was: text.slice(at.start, at.end), text: changed });
    }
    ts.forEachChild(node, visit);
  };
  ts.forEachChild(source, visit);
  return found;
}

export const mutated = (text: string, { start, end, text: changed }: Mutant): string => text.slice(0, start) + changed + text.slice(end);
