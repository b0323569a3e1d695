"""Verbs that can carry a line of speech ("said", "asked"), in the forms a story uses.

Our own list, made by reading; it is deliberately wide, since what is plain and what is not is for
an overlay to say. Regular forms are made here, irregular ones are written out.
"""

_REGULAR = """
accuse acknowledge add admit admonish advise affirm agree allow announce answer apologise apologize
argue ask assent assert assure avow bark beam bellow bleat blurt blubber boast boom bray breathe
bridle bubble caution cackle call challenge chant chatter cheer chide chime chirp chorus chuckle
claim coax cluck command comment complain concede conclude confess confide confirm contend continue
coo correct counsel counter croak croon cry curse declare decree defend demand demur deny dictate
direct disagree drawl echo ejaculate elaborate enquire entreat enthuse exclaim exhort expand explain explode
expostulate falter finish flounder frown fret fume gabble gasp gibber giggle grate greet grin gripe
groan growl grouse grumble grunt guess gulp gurgle gush hail hazard hesitate hint hiss holler howl
huff hum imitate implore inform inquire insist instruct interject interpose interrupt intone
invite jeer jest jibe joke joust lament laugh lecture lie lisp marvel maintain mention mimic
moan mock mumble murmur muse mutter nag narrate nod note object observe offer opine order pant persist plead
point ponder pout pray predict press proceed proclaim profess promise prompt pronounce propose
protest purr pursue query question quip quaver quote rage ramble rant rap rasp rave read reason
reassure recall recite reckon recollect recommend reflect rejoin relate remark remember remind
remonstrate repeat reply report request resolve respond resume retort return reveal roar rumble
scoff scold scowl scream screech shout shriek shrill shrug sigh signal simper sing smile smirk snap
snarl sneer sniff sniffle snivel snort sob soothe speculate splutter sputter squawk squeak squeal
stammer start state storm stress stutter submit suggest supply surmise swear taunt tease tempt
testify theorise theorize threaten thunder toast trail trill try twitter urge utter venture
voice volunteer vouch vow wail warn whimper whine whisper whistle whoop wheedle wheeze wonder
yammer yap yell yelp yawn
""".split()

_IRREGULAR = """
said say says asked cried tell tells told think thinks thought begin begins began speak speaks spoke
write writes wrote sing sings sang swear swears swore lie lied lies put puts go goes went read reads
break breaks broke give gives gave cut cuts spat spit spits bade bid quoth sung snapped hummed
nagged begged beg begs chimed sobbed rapped yapped saith repeated come comes came get got
""".split()

# Forms from the irregular list that carry speech only now and then ("went", "put in"): they name a
# tag only where the punctuation already says that speech is going on.
_WEAK = frozenset(
    "put puts go goes went cut cuts give gives gave come comes came get got break breaks broke "
    "start starts started point points pointed press presses pressed try tries tried "
    "read reads tempt tempts tempted lie lies lied sing sings sang sung return returns returned "
    "supply supplies supplied recall recalls recalled remember remembers remembered think thinks "
    "smile smiles smiled nod nods nodded shrug shrugs shrugged frown frowns frowned laugh laughs "
    "laughed grin grins grinned hesitate hesitates hesitated signal signals signalled yawn yawns "
    "yawned scowl scowls scowled pout pouts pouted flounder flounders floundered".split()
)

_DOUBLING = frozenset("beg nag yap hum rap sob snap chat whip strip demur".split())


def _forms(verb: str) -> tuple[str, str, str]:
    if verb.endswith("e"):
        return verb, verb + "s", verb + "d"
    if verb.endswith("y") and verb[-2] not in "aeiou":
        return verb, verb[:-1] + "ies", verb[:-1] + "ied"
    past = verb + (verb[-1] if verb in _DOUBLING else "") + "ed"
    return verb, verb + ("es" if verb.endswith(("s", "sh", "ch", "x")) else "s"), past


SPEECH_VERBS = frozenset(form for verb in _REGULAR for form in _forms(verb)) | frozenset(_IRREGULAR)
"""Every form, in lower case."""

BASE_FORMS = frozenset(_REGULAR) | frozenset(
    "tell think begin speak write sing swear break beg".split()
)
"""Forms that need "I", "we", "you", "they" or a helping verb before them."""

SURE_SPEECH_VERBS = SPEECH_VERBS - _WEAK
"""Forms that name speech on their own."""
