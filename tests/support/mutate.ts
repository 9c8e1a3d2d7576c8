import { chance } from '../../core/effects/chance.ts'

/** What was done to a file, in words, and what became of it. */
export interface Mutant {
  readonly what: string
  readonly bytes: Uint8Array
}

/**
 * A file with one to three faults, of the kinds that cut transfers, bad disks and hostile hands make: always the same for
 * the same number. Every third has wrong numbers alone, so that it is well-formed and read to its depth.
 * @param number  which mutant
 * @param words   pieces of the format that are written over others, or put between them
 */
export function mutant(bytes: Uint8Array, number: number, words: readonly Uint8Array[]): Mutant {
  let use = 0
  const even = (): number => chance(number, 0, 20261, use++)
  const below = (count: number): number => Math.floor(even() * count)
  // Half of the places crowd at the start, where the structure of most files is.
  const place = (length: number): number => Math.floor((even() < 0.5 ? even() ** 3 : even()) * length)
  const said: string[] = []
  let made = Uint8Array.from(bytes)
  const cut = (from: number, count: number, put: Uint8Array): void => {
    const rest = made.subarray(Math.min(made.length, from + count))
    const joined = new Uint8Array(from + put.length + rest.length)
    joined.set(made.subarray(0, from))
    joined.set(put, from)
    joined.set(rest, from + put.length)
    made = joined
  }
  for (let left = 1 + below(3); left > 0; left--) {
    const at = place(made.length)
    switch (number % 3 === 2 ? 8 : below(9)) {
      case 0:
        said.push(`bit flipped at ${at}`)
        if (made.length > 0) made[at]! ^= 1 << below(8)
        break
      case 1:
        said.push(`byte at ${at} set`)
        if (made.length > 0) made[at] = [0, 1, 0x7f, 0x80, 0xff][below(5)]!
        break
      case 2: {
        const count = 1 + below(8)
        said.push(`${count} bytes of noise at ${at}`)
        cut(
          at,
          count,
          Uint8Array.from({ length: count }, () => below(256)),
        )
        break
      }
      case 3:
        said.push(`cut off at ${at}`)
        cut(at, made.length, new Uint8Array(0))
        break
      case 4: {
        const count = 1 + below(200)
        said.push(`${count} bytes taken out at ${at}`)
        cut(at, count, new Uint8Array(0))
        break
      }
      case 5: {
        const count = 1 + below(400)
        said.push(`${count} bytes doubled at ${at}`)
        cut(at, 0, made.slice(at, at + count))
        break
      }
      case 6: {
        const from = place(made.length)
        const count = 1 + below(60)
        said.push(`${count} bytes of ${from} written over ${at}`)
        cut(at, count, made.slice(from, from + count))
        break
      }
      case 7: {
        const word = words[below(words.length)]!
        said.push(`a word of the format put in at ${at}`)
        cut(at, 0, word)
        break
      }
      case 8: {
        const [from, to] = numberAt(made, at)
        const large = numbers[below(numbers.length)]!
        said.push(`the number at ${from} is now ${large}`)
        cut(
          from,
          to - from,
          Uint8Array.from(large, letter => letter.charCodeAt(0)),
        )
        break
      }
    }
  }
  return { what: `mutant ${number}: ${said.join(', ')}`, bytes: made }
}

const numbers = ['0', '-1', '1', '65536', '4294967295', '99999999999', '1e308', '0.0000001', '-2147483648']

/** Digits at a place or behind it; an empty stretch where there are none. */
function numberAt(bytes: Uint8Array, at: number): readonly [from: number, to: number] {
  const isDigit = (byte: number | undefined): boolean => byte !== undefined && byte >= 48 && byte <= 57
  let from = at
  while (from < bytes.length && !isDigit(bytes[from])) from++
  let to = from
  while (isDigit(bytes[to])) to++
  return [from, to]
}
