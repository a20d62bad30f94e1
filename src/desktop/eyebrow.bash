# Completion of eyebrow's verbs, options and files. Options are asked of the program, so that they are its own.
_eyebrow() {
  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} verb=${COMP_WORDS[1]}
  COMPREPLY=()
  if [ "$COMP_CWORD" -eq 1 ]; then
    mapfile -t COMPREPLY < <(compgen -W "check compare export faces map new picture pocket stack untimed view --help --version" -- "$word")
    return
  fi
  case $before in
    --units) mapfile -t COMPREPLY < <(compgen -W "mm in" -- "$word"); return ;;
    --csv | --json | --plot | --bars | --fix | --sheet | -o | --output) mapfile -t COMPREPLY < <(compgen -f -- "$word"); return ;;
  esac
  if [[ $word == -* ]]; then
    local options
    options=$(eyebrow "$verb" --help 2>/dev/null | grep -oE -- '--[a-z][a-z-]*' | sort -u)
    mapfile -t COMPREPLY < <(compgen -W "$options" -- "$word")
  else
    mapfile -t COMPREPLY < <(compgen -f -X '!*.toml' -- "$word"; compgen -d -- "$word")
  fi
}
complete -o filenames -F _eyebrow eyebrow
