/** What the process inks are called, by language: whole names. Common trade usage, from memory. */
export const processNames: readonly (readonly [ink: 'C' | 'M' | 'Y' | 'K', names: readonly string[]])[] = [
  ['C', ['cyan', 'ciano', 'cian', 'cyaan', 'シアン', '青']],
  ['M', ['magenta', 'マゼンタ', '品红', '洋红']],
  ['Y', ['yellow', 'gelb', 'jaune', 'amarillo', 'giallo', 'amarelo', 'geel', 'żółty', 'イエロー', '黄']],
  ['K', ['black', 'schwarz', 'noir', 'negro', 'nero', 'preto', 'zwart', 'czarny', 'ブラック', '黑', '墨']],
]

/**
 * The process ink that a plate is named after, its place in C, M, Y, K; null where it is another ink. `process cyan` and
 * the letter alone count as well.
 */
export function processPlate(name: string): 0 | 1 | 2 | 3 | null {
  const plain = name
    .trim()
    .toLowerCase()
    .replace(/^process[\s_-]+/, '')
  const found = processNames.findIndex(([ink, names]) => plain === ink.toLowerCase() || names.includes(plain))
  return found === 0 || found === 1 || found === 2 || found === 3 ? found : null
}
