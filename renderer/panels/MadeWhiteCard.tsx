import type { WhiteRecipe } from '../../core/checks/white/recipe.ts'

/** White that is made of the art and in no layer of it: what it is, and the way to where it is changed. */
export function MadeWhiteCard({
  recipe,
  onOpen,
}: {
  readonly recipe: WhiteRecipe
  readonly onOpen: () => void
}) {
  const { name, under, patches, design } = recipe
  const below = [count(under.length, 'layer'), count(patches.length, 'patch', 'patches')].filter(
    words => words !== '',
  )
  return (
    <article className="card">
      <button
        type="button"
        className="card-head"
        title="Opens the checks of white, where it is changed or taken out"
        onClick={onOpen}
      >
        <span className="card-name">
          <strong>{name}</strong>
          <span className="quiet">
            under {below.join(' and ')} · choke {design.chokeMm.toFixed(2)} mm
          </span>
        </span>
      </button>
    </article>
  )
}

const count = (n: number, one: string, many = `${one}s`): string =>
  n === 0 ? '' : `${n} ${n === 1 ? one : many}`
