import { describe, expect, it } from 'vitest'
import { type RoleName, roleNames } from '../../../core/roles/role.ts'
import { languages, roleTerms, termsOf } from '../../../core/roles/terms.ts'
import { findTerms, wordsOf } from '../../../core/roles/words.ts'

const rolesIn = (name: string) => findTerms(name, roleTerms).map(hit => hit.value)

describe('a name as words', () => {
  it.each([
    ['White_Plate-01', ['white', 'plate', '01']],
    ['whitePlate2', ['white', 'plate', '2']],
    ['UVLack', ['uv', 'lack']],
    ['WEISS / Deckweiß', ['weiss', 'deckweiss']],
    ['Découpe', ['decoupe']],
    ['Biały poddruk', ['bialy', 'poddruk']],
    ['白版2 Holo', ['白版', '2', 'holo']],
    ['ﾎﾛｸﾞﾗﾑ', ['ホログラム']],
    ['ＷＨＩＴＥ', ['white']],
    ['', []],
    ['***', []],
  ])('%s', (name, words) => {
    expect(wordsOf(name)).toEqual(words)
  })

  it('is the same whether accents come composed or apart (Unicode normal forms)', () => {
    expect(wordsOf('Prägung'.normalize('NFD'))).toEqual(wordsOf('Prägung'.normalize('NFC')))
    expect(wordsOf('ホログラム'.normalize('NFD'))).toEqual(['ホログラム'])
  })
})

describe('terms', () => {
  it('need whole words in scripts with gaps', () => {
    expect(rolesIn('whiteboard')).toEqual([])
    expect(rolesIn('Black')).toEqual([])
    expect(rolesIn('Scoreboard')).toEqual([])
    expect(rolesIn('white board')).toContain('white')
  })

  it('may be a stem where the table says so', () => {
    expect(rolesIn('Holographie')).toEqual(['holography'])
    expect(rolesIn('Unterdruckweiß')).toEqual(['white'])
    expect(rolesIn('Stanzkontur')).toEqual(['dieline'])
  })

  it('may stand inside a Chinese or Japanese run', () => {
    expect(rolesIn('全息底层')).toEqual(['holography'])
    expect(rolesIn('下地白版レイヤー')).toContain('white')
  })

  it('hide shorter ones inside them', () => {
    expect(findTerms('Varnish free', roleTerms).map(hit => hit.term)).toEqual(['varnish free'])
  })

  it('after a linking word say where something lies', () => {
    const [over, under] = [findTerms('Varnish over white', roleTerms), findTerms('Comet on white', roleTerms)]
    expect(over.filter(hit => !hit.behind).map(hit => hit.value)).toEqual(['varnish'])
    expect(under.filter(hit => !hit.behind)).toEqual([])
  })

  it('marked with = want the name to themselves, numbers aside', () => {
    expect(rolesIn('Die 2')).toEqual(['dieline'])
    expect(rolesIn('Die Sterne')).toEqual([])
  })
})

describe('the table of trade words', () => {
  const cases = roleTerms.flatMap(([role]) =>
    languages.flatMap(language => termsOf(role, language).map(term => [role, language, term] as const)),
  )

  it('has words for every role in all ten languages', () => {
    expect(roleTerms.map(([role]) => role).toSorted()).toEqual([...roleNames].toSorted())
    for (const [role] of roleTerms)
      for (const language of languages)
        expect(termsOf(role, language).join(), `${role} ${language}`).not.toBe('')
  })

  it('finds each of its own terms again', () => {
    // A term that folding, splitting or a longer neighbour makes unreachable would be dead data.
    const lost = cases.filter(
      ([role, , term]) => !rolesIn(term.replace(/[*=]/g, '')).includes(role as RoleName),
    )
    expect(lost).toEqual([])
  })

  it('gives one spelling to one role only', () => {
    const seen = new Map<string, Set<RoleName>>()
    for (const [role, , term] of cases) {
      const key = wordsOf(term.replace(/[*=]/g, '')).join(' ')
      seen.set(key, (seen.get(key) ?? new Set()).add(role))
    }
    expect([...seen].filter(([, roles]) => roles.size > 1).map(([term]) => term)).toEqual([])
  })
})
