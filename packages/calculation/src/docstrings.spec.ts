import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const folder = fileURLToPath(new URL('.', import.meta.url));
const MINE = /^(optics|uncertainty|sizing|rotation|suitability-numbers|plan|learning)\/|^calculation-error/;

/** Every export of the package with what its docstring holds. */
function documentedExports() {
  const entry = `${folder}index.ts`;
  const program = ts.createProgram([entry], {
    module: ts.ModuleKind.NodeNext,
    moduleResolution: ts.ModuleResolutionKind.NodeNext,
    target: ts.ScriptTarget.ES2023,
    strict: true,
    types: [],
  });
  const checker = program.getTypeChecker();
  const module = checker.getSymbolAtLocation(program.getSourceFile(entry) as ts.SourceFile);
  return checker.getExportsOfModule(module as ts.Symbol).map((symbol) => {
    const real = symbol.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(symbol) : symbol;
    const declaration = real.declarations?.[0] as ts.Declaration;
    return {
      name: symbol.name,
      file: declaration.getSourceFile().fileName.replace(folder, ''),
      isFunction: ts.isFunctionDeclaration(declaration),
      text: ts.displayPartsToString(real.getDocumentationComment(checker)),
      tags: real.getJsDocTags(checker).map((tag) => tag.name),
    };
  });
}

describe('every public export', { timeout: 60_000 }, () => {
  const all = documentedExports().filter((e) => MINE.test(e.file));
  const lacking = (has: (e: (typeof all)[number]) => boolean): string[] =>
    all.filter((e) => !has(e)).map((e) => `${e.file}: ${e.name}`);

  it('says what it means', () => {
    expect(all.length).toBeGreaterThan(100);
    expect(lacking((e) => e.text !== '')).toEqual([]);
  });

  it('names its source, gives an example and says what it throws, where it is a function', () => {
    expect(lacking((e) => !e.isFunction || e.tags.includes('source'))).toEqual([]);
    expect(lacking((e) => !e.isFunction || e.tags.includes('example'))).toEqual([]);
    expect(lacking((e) => !e.isFunction || /throws/i.test(e.text))).toEqual([]);
  });
});
