const separators = /[\s_.-]/

/**
 * What plates are called, by the names of their files: what stands in the last brackets, else what is left without the
 * beginning and the end that all of them share. One file alone: what stands behind its last separator.
 */
export function plateNames(files: readonly string[]): readonly string[] {
  const bare = files.map(name => name.replace(/\.[A-Za-z0-9]{1,5}$/, ''))
  const rest = bare.filter(name => bracketed(name) === null)
  const before = sharedStart(rest)
  const after = sharedStart(rest.map(reversed))
  return bare.map(name => {
    const inside = bracketed(name)
    if (inside !== null) return inside
    if (rest.length === 1) return plain(name.split(separators).at(-1)!) || plain(name)
    // A name may be all that the others begin with: then it stays whole.
    return plain(name.slice(before, Math.max(before, name.length - after))) || plain(name)
  })
}

/** Whether a file's name is that of a picture, which a folder may have of each plate; hidden files are none. */
export const isPlateName = (name: string): boolean => /^[^.].*\.(?:tiff?|png|jpe?g)$/i.test(name)

const bracketed = (name: string): string | null =>
  /[([{]([^()[\]{}]+)[)\]}]\s*$/.exec(name)?.[1]?.trim() ?? null
const reversed = (text: string): string => [...text].reverse().join('')
const plain = (text: string): string => text.replace(/_/g, ' ').replace(/^[\s.-]+|[\s.-]+$/g, '')

/** Characters that all begin with, up to and with their last separator. */
function sharedStart(names: readonly string[]): number {
  const [first = '', ...others] = names
  if (others.length === 0) return 0
  let shared = 0
  while (shared < first.length && others.every(name => name[shared] === first[shared])) shared++
  for (let at = shared; at > 0; at--) if (separators.test(first[at - 1]!)) return at
  return 0
}
