# Completion for bash: verbs and options as the program itself tells them, scenes and other files by name.
_swashwright() {
    local word=${COMP_WORDS[COMP_CWORD]} verb="" help i
    for ((i = 1; i < COMP_CWORD; i++)); do
        case ${COMP_WORDS[i]} in
            -*) ;;
            *) verb=${COMP_WORDS[i]} && break ;;
        esac
    done
    case $word in
        -*)
            help=$("${COMP_WORDS[0]}" ${verb:+"$verb"} --help 2>/dev/null)
            mapfile -t COMPREPLY < <(compgen -W "$(grep -oE -- '--[a-z][a-z-]*' <<<"$help" | sort -u)" -- "$word")
            return
            ;;
    esac
    mapfile -t COMPREPLY < <(compgen -f -- "$word")
    if [ -z "$verb" ]; then
        help=$("${COMP_WORDS[0]}" --help 2>/dev/null)
        mapfile -t -O "${#COMPREPLY[@]}" COMPREPLY < <(compgen -W \
            "$(sed -n '/^Subcommands:/,/^$/s/^  \([a-z]*\) .*/\1/p' <<<"$help")" -- "$word")
    fi
}
complete -o filenames -F _swashwright swashwright
