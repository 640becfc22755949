package people

import "strings"

// Genders of words.
const (
	male   = 'm'
	female = 'f'
)

// titles stand before a name; the letter is the gender that they tell, 0 none.
var titles = genderTable(`mr mister monsieur m. sir lord master king prince duke baron count earl squire father brother uncle grandpa grandfather signor herr don friar parson reverend rev deacon sire senor lad mester maister captain cap'n capt colonel col major general gen lieutenant sergeant corporal admiral commodore inspector constable`,
	`mrs miss ms madame madam mme mlle mademoiselle lady mistress queen princess duchess countess baroness mother sister aunt auntie aunty grandma grandmother granny widow dame nurse signora signorina frau fraulein senora goody gammer`,
	`dr doctor private judge justice professor prof president senator governor mayor bishop cousin farmer old young little poor dear saint st honorable hon`)

// honorific are the titles that are marked as a mention inside the name.
var honorific = wordSet("mr mister mrs miss ms sir lady lord madam monsieur mme mlle mademoiselle captain capt dr master mistress uncle aunt professor squire signor sergeant judge major")

// address are words by which anybody is called.
var address = wordSet("halloo hallo hullo hello hey ho hurrah hooray hush hurry alas bravo amen ahem pooh bah fie faith egad lo heigh hark look stop wait ma'am ma’am madam sir sirs miss mister mum mem sirrah gentlemen ladies mr mrs m'm marm")

// honour are titles that stand for whoever has them: her Ladyship.
var honour = wordSet("ladyship lordship majesty highness worship honour honor reverence excellency")

// nouns of people that tell their gender.
var nounGender = genderTable(`man boy gentleman lord king prince duke baron count earl father papa pa dad daddy brother uncle grandfather grandpa son nephew husband widower bridegroom fellow lad chap guy footman butler coachman groom waiter policeman fireman sailor soldier blacksmith monk priest parson clergyman curate vicar bishop rector knight squire wizard warlock host landlord emperor monsieur sir bachelor hero god actor master schoolmaster headmaster postmaster huntsman fisherman workman watchman nobleman fiddler ploughman miller farmer beadle bull cock rooster stallion gander ram stepfather godfather grandson stepson woodman woodsman scarecrow horseman boatman craftsman madman salesman doorman statesman countryman policeman cabman tradesman milkman postman juryman seaman ostler hostler ferryman chairman houseman snowman highwayman jew negro dwarf colonel captain sergeant admiral general lieutenant corporal inspector constable detective burglar pirate lordship`,
	`woman girl lady queen princess duchess baroness countess mother mamma mama ma mum mummy mammy sister aunt auntie grandmother grandma granny daughter niece wife widow bride lass maid housemaid maidservant nurse governess witch housekeeper hostess landlady empress madam nun heroine goddess actress mistress schoolmistress headmistress seamstress waitress matron dame damsel maiden spinster laundress washerwoman cow hen mare goose ewe stepmother godmother granddaughter stepdaughter fairy milkmaid dairymaid gentlewoman chambermaid charwoman stewardess abbess sorceress enchantress nursemaid ladyship`, ``)

// kin are words that stand for one person when somebody of the story says them.
var kin = wordSet(`mother mamma mama ma mum mammy father papa pa dad daddy grandmother grandma granny grandfather grandpa aunt auntie uncle nurse cook doctor`)

// given names with their gender: common knowledge, no source.
var given = genderTable(`aaron abraham abel adam adrian alan albert alec aleck alexander alfred allan allen ambrose amos andrew andy angus anthony archibald archie arnold arthur augustus barney bartholomew basil ben benjamin benny bernard bert bill billy bob bobby bobbie brian bruce caleb calvin cecil cedric charles charley charlie chester christopher clarence claude clement clifford colin cyril dan daniel danny darcy dave david davy denis dennis dick dickon dickie donald douglas duncan edgar edmund edward edwin eli elias elijah elmer emil eric ernest eugene ezra felix ferdinand francis frank franklin fred freddy frederick gabriel geoffrey george gerald gilbert giles godfrey gregory guy harold harry harvey henry herbert herman homer horace horatio howard hubert hugh hugo humphrey isaac ivan jack jacob jake james jamie jasper jed jeff jeffrey jem jeremiah jeremy jerome jerry jesse jim jimmy jimmie joe job joel john johnny johnnie jonas jonathan joseph joshua julian julius justin keith kenneth laurence laurie lawrence leo leon leonard leslie lewis lionel louis luke luther marcus mark martin matthew maurice max michael mick mike miles moses nat nathan nathaniel ned nicholas nick nigel noah noel norman oliver oscar otto owen oswald pat patrick paul percy perry peter phil philip phineas piers pip ralph randolph raymond reginald reuben richard rob robert robin rod roderick rodney roger roland ronald rowland roy rudolf rudolph rufus rupert sam sammy samuel sandy saul sebastian seth sid sidney silas simon solomon stanley stephen steve steven stuart sydney ted teddy terence theodore thomas tim timothy tip titus toby tom tommy tony tristram victor vincent wallace walter wilbur wilfred will william willie willy winston`,
	`abigail ada adela adelaide adele adeline agatha agnes alice alison amanda amelia amy anabel angela angelica angelina anastasia ann anna annabel anne annette annie antonia arabella augusta aunty barbara beatrice becky bella belinda belle bertha bess bessie bessy beth betsey betsy betty biddy blanche bridget caroline carrie catherine cathy cecilia cecily celia charlotte christina christine clara clarice clarissa clementina constance cora cordelia cornelia cynthia daisy deborah delia diana dinah dolly dora dorothea dorothy edith edna effie eleanor elinor eliza elizabeth ella ellen elsie em emily emma emmeline esther ethel etta eunice eva eve evelyn evelina fanny felicia flora florence frances freda gertrude ginny georgiana geraldine gladys glinda grace greta gwendolen hannah harriet hattie helen helena henrietta hester hetty hilda ida imogen ina irene iris isabel isabella ivy jane janet janey jean jemima jennie jenny jessica jessie jill joan joanna josephine josie joyce judith judy julia juliet julie kate katharine katherine kathleen katie katy kitty laura lavinia leah lena leonora letitia letty lettie lilian lillian lily lina lizzie lizzy lola lottie louisa louise lucia lucinda lucretia lucy lydia mabel madeleine madge maggie mamie marcella margaret margery maria marian marianne marie marilla marina marion marjorie martha mary matilda maud maude may meg melissa mercy mildred millicent milly minna minnie miranda miriam molly muriel myra nan nancy nanny naomi nell nellie nelly nettie nina nora norah olive olivia ophelia pamela pansy patience patricia patty paulina pauline peggy penelope phoebe phyllis polly portia priscilla prudence prue rachel rebecca rhoda rosa rosalind rosamond rosamund rose rosemary rosie rosy ruby ruth sadie sally sarah selina sibyl sophia sophie sophy stella susan susanna susannah susie susy sybil sylvia teresa tess thea theodora theresa tilly trixie ursula valerie vera veronica victoria viola violet virginia vivian wendy wilhelmina winifred winnie zoe`, ``)

// short forms of given names: common knowledge, no source.
var shortFor = func() map[string]string {
	m := map[string]string{}
	for line := range strings.FieldsSeq(`elizabeth=eliza,lizzy,lizzie,liz,beth,betsy,betsey,betty,bess,bessie,bessy,elsie,lisa thomas=tom,tommy william=bill,billy,will,willie,willy robert=bob,bobby,rob,robin,bobbie richard=dick,dickie,rick james=jim,jimmy,jem,jamie,jimmie john=jack,johnny,johnnie,jock joseph=joe,joey josephine=jo,josie margaret=meg,maggie,peggy,madge,daisy,margery,greta catherine=kitty,kate,cathy,katy,katie,kit katherine=kitty,kate,cathy,katy,katie charles=charley,charlie edward=ned,ted,teddy,eddie,ed,neddy theodore=teddy,ted,laurie,dora henry=harry,hal harriet=hattie,harry francis=frank,frankie frances=fanny,frank mary=polly,molly,may,mamie,minnie sarah=sally,sadie anne=nan,nancy,annie,anny ann=nan,nancy,annie,anny susan=sue,susie,susy,sukey martha=patty,matty amelia=amy,emmy,milly emily=em,emmy,milly emma=em,emmy ellen=nell,nelly,nellie helen=nell,nelly,nellie eleanor=nell,nelly,nellie,nora rebecca=becky dorothy=dolly,dot,dora,dolly charlotte=lottie,lotty isabella=bella,bell,belle,izzy isabel=bella,bell,belle arabella=bella,bell louisa=lou,louie albert=bert,bertie,al herbert=bert,bertie alfred=alf,alfie,fred frederick=fred,freddy,freddie daniel=dan,danny david=dave,davy samuel=sam,sammy benjamin=ben,benny matthew=mat,matt michael=mike,mick andrew=andy alexander=alec,aleck,sandy,alick anthony=tony timothy=tim,timmy stephen=steve peter=pete patrick=pat,paddy walter=wat,wally christopher=kit,chris nicholas=nick philip=phil,pip,philly jeremiah=jerry gerald=jerry edmund=ned,ed oliver=noll,nolly laurence=larry,laurie lawrence=larry,laurie nathaniel=nat,nathan jacob=jake abraham=abe archibald=archie augustus=gus,gussy reginald=reggie gilbert=gil,bert jonathan=jonathan,jon victoria=vicky winifred=winnie,freda caroline=carrie,caro,lina florence=flo,flossie,florrie gertrude=gertie,trudy millicent=milly matilda=tilly,tillie,matty wilhelmina=minna,minnie,billie penelope=penny priscilla=prissy,cilla deborah=debby jane=janey,jenny,jinny virginia=ginny,ginger cordelia=delia cornelia=nelia lucy=lu,lulu julia=julie,judy`) {
		full, shorts, _ := strings.Cut(line, "=")
		for s := range strings.SplitSeq(shorts, ",") {
			if old := m[s]; old != "" {
				full = old + "," + full
			}
			m[s] = full
			full, _, _ = strings.Cut(line, "=")
		}
	}
	return m
}()

// nobody are words with a capital that name nobody in a story.
var nobody = wordSet(`monday tuesday wednesday thursday friday saturday sunday january february march april june july august september october november december christmas easter bible english french german latin greek american indian chapter part book i oh ah o yes no well why god lord heaven spring summer autumn winter north south east west ma'am sir madam madame miss mister gentlemen ladies god's lor lawk gracious goodness hullo hello sirs thou thee christian providence almighty heavens jove nature fate`)

func wordSet(s string) map[string]bool {
	m := map[string]bool{}
	for w := range strings.FieldsSeq(s) {
		m[w] = true
	}
	return m
}

func genderTable(he, she, either string) map[string]byte {
	m := map[string]byte{}
	for w := range strings.FieldsSeq(he) {
		m[w] = male
	}
	for w := range strings.FieldsSeq(she) {
		m[w] = female
	}
	for w := range strings.FieldsSeq(either) {
		m[w] = 0
	}
	return m
}

// pronouns of the third person in the singular, by gender; 'n' is "it".
var third = map[string]byte{"he": male, "him": male, "his": male, "himself": male, "she": female, "her": female, "hers": female, "herself": female}

var first = wordSet("i me my mine myself")
var second = wordSet("you your yours yourself thou thee thy thine ye")
