" Vim syntax for Stringline ledgers (.sline); the language is described in grammar/README.md.
" Install: copy to ~/.vim/syntax/stringline.vim and add to your vimrc
"   autocmd BufRead,BufNewFile *.sline set filetype=stringline

if exists("b:current_syntax")
  finish
endif

syntax case ignore
" Names hold letters, digits, - and . so `front-weight` is one word. Everything is a match, none a keyword:
" the later one wins, and `left` is a verb first on its line and a place after that.

syntax match slinePlace "\v[[:alnum:]_.-]@<!%(LF|RF|LR|RR|FL|FR|RL|front|rear|left|right|all|[cg]\d{1,2})[[:alnum:]_.-]@!"
syntax match slineClause "\v[[:alnum:]_.-]@<!%(by|with|at|over|during|after|from|to|into|on|invoice|split|among|rate|for|until|found-by)[[:alnum:]_.-]@!"

" Numbers: plain, ranges, pairs and triples, ruler fractions, degrees and minutes, with a unit stuck on or not.
syntax match slineNumber "\v[[:alnum:]_.-]@<![+-]?\d+%(\.\d+)?%(%(/|\.\.)[+-]?\d+%(\.\d+)?)*%([A-Za-z%°]*[[:alnum:]_.-]@!)@="
syntax match slineNumber "\v[[:alnum:]_.-]@<![+-]?\d+[ -]\d+/%(2|4|8|16|32|64)[[:alnum:]_.-]@!"
syntax match slineNumber "\v[[:alnum:]_.-]@<![+-]?\d+[d°]\d+%(\.\d+)?['′]"
syntax match slineNumber "\v[[:alnum:]_.-]@<!\d{1,2}:\d\d%(:\d\d)?%(\.\d+)?%(\.\.\d{1,2}:\d\d)?[[:alnum:]_.-]@!"
syntax match slineDate "\v[[:alnum:]_.-]@<!\d{4}-\d\d-\d\d%(\.\.%(\d{4}-)?%(\d\d-)?\d\d)?[[:alnum:]_.-]@!"
" Not read; not known.
syntax match slineMissing "\v\s@<=[-?]\_s@="
syntax match slineArrow "->\|±\|+/-"

syntax match slineDeclaration "\v^%(shop|person|client|circuit|event|gauge|car|kind|spec|part|quantity|figure|baseline|exchange|rule|class|outfit|word)[[:alnum:]_.-]@!"
syntax match slineVerb "\v%(^\s+%(\d{1,2}:\d\d%(\.\.\d{1,2}:\d\d)?\s+)?)@<=%(set|adjust|found|left|read|bench|fill|torque|recheck|compare|fit|remove|swap|move|build|strip|rebuild|shelve|quarantine|release|scrap|buy|sell|failed|hit|inspect|service|lend|borrow|return|count|use|run|stint|stage|stop|laps|result|correct|say|think|try|waive|void|job|done|defer|promise|hours|cost|credit|quote|paid|handed|points|sweep|lift)[[:alnum:]_.-]@!"

syntax region slineText start=+["“”]+ end=+["“”]+ oneline
" `because` takes the rest of the line, a comment apart.
syntax match slineClause "\v[[:alnum:]_.-]@<!because[[:alnum:]_.-]@!" nextgroup=slineReason
syntax match slineReason ".*" contained contains=slineComment
syntax match slineComment "^\s*#.*"
syntax match slineComment "\s\@<=#\%(\s\|#\|$\)\@=.*"
syntax match slineNote "^\s*|.*"

highlight default link slineDeclaration Structure
highlight default link slineVerb Statement
highlight default link slineClause Keyword
highlight default link slinePlace Identifier
highlight default link slineNumber Number
highlight default link slineDate Number
highlight default link slineMissing Special
highlight default link slineArrow Operator
highlight default link slineText String
highlight default link slineReason String
highlight default link slineComment Comment
highlight default link slineNote SpecialComment

let b:current_syntax = "stringline"
