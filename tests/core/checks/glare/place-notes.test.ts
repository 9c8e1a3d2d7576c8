import { expect, test } from 'vitest'
import { NoteBook } from '../../../../core/checks/glare/place-notes.ts'

test('numbers of places go on from check to check while the place has the same word', () => {
  const book = new NoteBook()
  const check = (words: readonly number[], whats: readonly string[]) => {
    const made: string[] = []
    book.open()
    const notes = book.notes('some places', Float64Array.from(words))
    const found = whats.map(what => [
      ...notes.of(what, 2, (i, out, at) => {
        made.push(`${what} ${words[i]}`)
        out.set([words[i]! * 10, what.length], at)
      }),
    ])
    book.close()
    return { made, found }
  }
  expect(check([1, 2], ['a', 'bb'])).toEqual({
    made: ['a 1', 'a 2', 'bb 1', 'bb 2'],
    found: [
      [10, 1, 20, 1],
      [10, 2, 20, 2],
    ],
  })
  // Another order, one that is new, one that is gone.
  expect(check([2, 3], ['a'])).toEqual({ made: ['a 3'], found: [[20, 1, 30, 1]] })
  // What the last check did not ask for is let go.
  expect(check([2, 3], ['a', 'bb']).made).toEqual(['bb 2', 'bb 3'])
  // A check that was given up leaves what was known.
  book.open()
  expect(check([2], ['a']).made).toEqual([])
})
