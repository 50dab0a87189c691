# Sagitta. `make help` lists the targets. PROFILE=release|debug|san and CC pick flags and the folder of the objects, so
# that builds never mix. Everything made lies under build/; the source tree stays as it is.
SHELL   := /bin/bash
.DELETE_ON_ERROR:
.DEFAULT_GOAL := all
ifeq ($(origin CC),default)
CC      := $(shell command -v gcc || command -v cc)
endif
PROFILE ?= release
B       := build/$(PROFILE)-$(notdir $(firstword $(CC)))
GEN     := build/gen
PREFIX  ?= /usr/local

# ---- flags ----
WARN    := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wswitch-enum -Wmissing-prototypes -Wstrict-prototypes -Wvla -Werror
FLAGS_release := -O2
FLAGS_debug   := -O0 -g
FLAGS_fuzz    := -O1 -g -fno-omit-frame-pointer -fsanitize=fuzzer-no-link,address,undefined -fno-sanitize-recover=all
FLAGS_san     := -O1 -g -fno-omit-frame-pointer -fsanitize=address,undefined -fno-sanitize-recover=all
# No contraction and no fast maths: the same bits on every machine.
CFLAGS  := -std=c11 -ffp-contract=off $(FLAGS_$(PROFILE)) $(EXTRA)
LINK    := $(if $(filter release,$(PROFILE)),-static)
INC     := -Icompiler -I$(GEN)
# A line a step; V=1 shows the whole commands.
Q       := $(if $(V),,@)
say      = $(if $(V),,@echo '  $(1)')

# ---- sources ----
STAGES  := base text messages catalogue wordings tokens words tree tidy model optics solved expand sheet scene layout panel paper output
SRC     := $(foreach s,$(STAGES),$(sort $(wildcard compiler/$(s)/*.c))) compiler/driver.c compiler/load.c compiler/run_sheet.c compiler/run_products.c
CLI     := $(sort $(wildcard compiler/cli/*.c))
PRINT   := $(sort $(wildcard compiler/print/*.c))    # of the program that makes PDF, PNG and presentations
MADE    := $(addprefix $(GEN)/,script.c scan.c faces.c player.c wordings.c)
OBJ     := $(SRC:compiler/%.c=$(B)/%.o) $(MADE:$(GEN)/%.c=$(B)/gen/%.o)
CLI_OBJ := $(CLI:compiler/%.c=$(B)/%.o)
PRINT_OBJ := $(PRINT:compiler/%.c=$(B)/%.o) $(B)/print/fonts.o
HEADERS := $(sort $(wildcard compiler/*.h compiler/*/*.h))
DEMOS   := $(sort $(wildcard scripts-demo/*.sag)) $(sort $(wildcard scripts-demo/shared/*.sag))

.PHONY: FORCE all binary printer library demo test unit figure-rules figure-words fuzz cross compare-renderers bench layers headers no-globals no-libm lint size golden-update test-odf test-office test-latex manual install uninstall clean help
all: build/sagitta build/sagitta-print ## build/sagitta, and beside it sagitta-print for PDF, PNG and ODP; installs missing Debian packages first
build/sagitta build/sagitta-print: build/%: $(B)/%
	@cp -f $< $@
binary: $(B)/sagitta
printer: $(B)/sagitta-print
library: $(B)/libsagitta.a

# ---- what the system must have ----
build/deps-%: compiler/tools/deps.sh
	@mkdir -p $(@D)
	@CC="$(CC)" sh compiler/tools/deps.sh $*
	@touch $@

# ---- generated C: never committed, strict on our files, relaxed on these ----
$(GEN)/script.c $(GEN)/script.h &: grammar/script.y | build/deps-build
	@mkdir -p $(GEN)
	$(call say,bison $<)
	$(Q)bison -Wall -Werror -Wcounterexamples --header=$(GEN)/script.h -o $(GEN)/script.c $<
$(GEN)/scan.c $(GEN)/scan.h &: grammar/tokens.l | build/deps-build
	@mkdir -p $(GEN)
	$(call say,flex $<)
	$(Q)flex --header-file=$(GEN)/scan.h -o $(GEN)/scan.c $<
build/make_faces: compiler/tools/make_faces.c | build/deps-build
	$(call say,cc $<)
	$(Q)$(CC) -std=c11 -O2 $(WARN) -Icompiler $$(pkg-config --cflags freetype2) $< -o $@ $$(pkg-config --libs freetype2)
$(GEN)/faces.c: build/make_faces
	@mkdir -p $(GEN)
	$(call say,faces)
	$(Q)build/make_faces > $@
# A drawing inside the page of slides obeys the same rules as a figure that is a file of its own.
$(GEN)/drawing.css: runtime/player.css
	@mkdir -p $(GEN)
	$(Q)sed 's/:root/.drawing/g' $< > $@
RUNTIME := $(addprefix runtime/,step.js player.js player.css slides.js slides.css)
$(GEN)/player.c: compiler/tools/embed.sh $(RUNTIME) $(GEN)/drawing.css
	@mkdir -p $(GEN)
	$(call say,player)
	$(Q)sh compiler/tools/embed.sh player_js=runtime/step.js+runtime/player.js player_css=runtime/player.css \
	  slides_js=runtime/step.js+runtime/slides.js slides_css=$(GEN)/drawing.css+runtime/slides.css > $@
# English first: the others are held to its keys and holes.
WORDINGS := runtime/wordings/english.txt $(filter-out %/english.txt,$(sort $(wildcard runtime/wordings/*.txt)))
$(GEN)/wordings.c: compiler/tools/make_wordings.awk compiler/wordings/keys.def $(WORDINGS)
	@mkdir -p $(GEN)
	$(call say,wordings)
	$(Q)awk -v keys=compiler/wordings/keys.def -f compiler/tools/make_wordings.awk $(WORDINGS) > $@
$(B)/gen/%.o: $(GEN)/%.c
	@mkdir -p $(@D)
	$(call say,$(notdir $(CC)) $(PROFILE) $<)
	$(Q)$(CC) $(CFLAGS) -Wall -Wno-unused-function $(INC) -MMD -MP -c $< -o $@

# ---- objects ----
$(B)/%.o: compiler/%.c | $(GEN)/script.h $(GEN)/scan.h
	@mkdir -p $(@D)
	$(call say,$(notdir $(CC)) $(PROFILE) $<)
	$(Q)$(CC) $(CFLAGS) $(WARN) $(INC) -MMD -MP -c $< -o $@
$(B)/libsagitta.a: $(OBJ)
	@rm -f $@
	@ar rcsD $@ $^
$(B)/sagitta: $(CLI_OBJ) $(B)/libsagitta.a
	$(call say,link $@)
	$(Q)$(CC) $(CFLAGS) $(LINK) $^ -lm -o $@
# ---- the program that prints: the same, with cairo and minizip ----
FONTS    ?= /usr/share/fonts/truetype/liberation2
PRINT_USES := cairo cairo-pdf cairo-ft freetype2 libpng minizip
# Finding the symbols of shared libraries costs more than a figure, so a release takes all of them in.
PRINT_STATIC = -static -Wl,--gc-sections $$(pkg-config --static --libs $(PRINT_USES)) -lm
PRINT_LIBS   = $(if $(LINK),$(PRINT_STATIC),$$(pkg-config --libs $(PRINT_USES)) -lz -lm)
$(PRINT_OBJ): INC += $(shell pkg-config --cflags $(PRINT_USES) 2>/dev/null)
$(PRINT_OBJ): | build/deps-build
$(B)/print/fonts.o: compiler/print/fonts.S
	@mkdir -p $(@D)
	$(Q)$(CC) -Wa,-I$(FONTS) -c $< -o $@
$(B)/sagitta-print: $(filter-out $(B)/cli/printer.o,$(CLI_OBJ)) $(PRINT_OBJ) $(B)/libsagitta.a
	$(call say,link $@)
	$(Q)$(CC) $(CFLAGS) $^ $(PRINT_LIBS) -o $@
-include $(PRINT_OBJ:.o=.d) $(OBJ:.o=.d) $(CLI_OBJ:.o=.d)

demo: all ## draw every script of scripts-demo/ into build/demo/, with a page that lists them
	@bash compiler/tools/demo.sh build/sagitta build/demo $(DEMOS)

# ---- tests ----
UNIT    := $(sort $(wildcard tests/unit/*.c tests/support/*.c))
USES    := criterion libxml-2.0 freetype2
$(B)/unit: $(UNIT) $(wildcard tests/support/*.h) $(B)/libsagitta.a | build/deps-test
	$(call say,link $@)
	$(Q)$(CC) -std=gnu11 -ffp-contract=off $(FLAGS_$(PROFILE)) -Wall -Wextra -Werror $(INC) -Itests -Itests/support $$(pkg-config --cflags $(USES)) \
	  $(UNIT) $(B)/libsagitta.a $$(pkg-config --libs $(USES)) -lm -o $@
$(B)/tool-faults: EXTRA_LINK := -Wl,--wrap=malloc,--wrap=calloc,--wrap=realloc,--wrap=free
$(B)/tool-arena_faults: EXTRA_LINK := -Wl,--wrap=sg_arena_get,--wrap=sg_arena_try,--wrap=sg_vec_grow,--wrap=malloc,--wrap=realloc,--wrap=free
$(B)/tool-%: tests/tools/%.c $(B)/libsagitta.a
	$(call say,link $@)
	$(Q)$(CC) $(CFLAGS) $(WARN) $(INC) $^ $(EXTRA_LINK) -lm -o $@
FIGURES := $(sort $(wildcard tests/figures/*.c)) tests/support/svgread.c tests/support/figure.c
$(B)/figures: $(FIGURES) $(wildcard tests/figures/*.h tests/support/*.h) $(B)/cli/files.o $(B)/cli/used.o $(B)/libsagitta.a | build/deps-test
	$(call say,link $@)
	$(Q)$(CC) -std=gnu11 -ffp-contract=off $(FLAGS_$(PROFILE)) -Wall -Wextra -Werror $(INC) -Itests -Itests/support $$(pkg-config --cflags libxml-2.0) \
	  $(FIGURES) $(B)/cli/files.o $(B)/cli/used.o $(B)/libsagitta.a -Wl,--wrap=sg_layout $$(pkg-config --libs libxml-2.0) -lm -o $@
figure-rules: $(B)/figures ## every rule of how figures look over every demo figure, and proof that each rule sees damage
	@$(B)/figures demos $(DEMOS)
figure-words: $(B)/figures ## words of 1000 made-up figures: none touches anything
	@$(B)/figures made 1000
test: build/deps-test ## everything; the last line is "N passed, N failed"
	@CC="$(CC)" MAKE="$(MAKE)" bash tests/run.sh
unit: $(B)/unit ## the Criterion suites of one PROFILE; T='suite/*' picks
	@bash tests/unit.sh $(B) '$(or $(T),*)'
FUZZ_SECONDS ?= 60
build/fuzz-clang/fuzz: tests/fuzz/fuzz.c tests/support/gen.c tests/support/fuzzjob.c $(B)/libsagitta.a
	$(call say,link $@)
	$(Q)clang -std=gnu11 -ffp-contract=off $(FLAGS_fuzz) -fsanitize=fuzzer -Wall -Wextra -Werror $(INC) -Itests/support $^ -lm -o $@
fuzz: all build/deps-test ## FUZZ_SECONDS=60 of fuzzing with sanitizers, and the long mutation tests
	@$(MAKE) --no-print-directory CC=clang PROFILE=fuzz build/fuzz-clang/fuzz
	@$(MAKE) --no-print-directory PROFILE=debug build/debug-$(notdir $(CC))/unit
	@bash tests/fuzz/fuzz.sh build/fuzz-clang/fuzz build/sagitta $(FUZZ_SECONDS)
	@MUTATIONS=20 build/debug-$(notdir $(CC))/unit --filter 'mutations/*' > build/fuzz/mutations.txt 2>&1; s=$$?; \
	  grep -E '^(together|pairs|names)' build/fuzz/mutations.txt; exit $$s
test-odf: all build/deps-odf ## presentations of all demos against the OpenDocument 1.3 schema, which a Debian package has
	@bash tests/odp.sh schema build/sagitta $(DEMOS)
test-office: all build/deps-office build/pixels ## by an office program: presentations opened and saved, their clicks counted; figures in text documents
	@bash tests/odp.sh office build/sagitta $(DEMOS)
	@bash tests/office.sh build/sagitta build/pixels $(DEMOS)
test-latex: all build/deps-latex ## a LaTeX document made as the manual says: sizes, fonts and steps
	@bash tests/latex.sh build/sagitta
golden-update: all ## take today's drawings and numbers of the demos as right; look at the difference before you commit
	@bash tests/golden.sh update build/sagitta $(DEMOS)
cross: all build/deps-cross ## the same bytes from a build for aarch64, run under emulation
	@$(MAKE) --no-print-directory -s -j2 CC=aarch64-linux-gnu-gcc PROFILE=release binary
	@bash tests/cross.sh build/sagitta qemu-aarch64-static build/release-aarch64-linux-gnu-gcc/sagitta $(DEMOS) $(wildcard tests/wrong/*.sag tests/values/*.sag)
compare-renderers: demo build/deps-renderers build/pixels ## every demo as librsvg, Chromium and Firefox draw it, compared by pixels
	@bash tests/browser/packages.sh > build/packages.log 2>&1 || { cat build/packages.log; exit 1; }
	@node tests/browser/renderers.mjs build/pixels build/renderers build/demo/*/*.svg
build/pixels: tests/tools/pixels.c | build/deps-build
	$(call say,cc $<)
	$(Q)$(CC) -std=c11 -O2 $(WARN) $$(pkg-config --cflags cairo) $< -o $@ $$(pkg-config --libs cairo) -lm
bench: all build/deps-bench ## instruction counts, times and page faults, to build/bench.txt
	@CC="$(CC)" bash tests/bench/bench.sh build/sagitta $(firstword $(DEMOS))

# ---- rules of the code ----
layers: ## every file includes its own folder and lower ones only
	@awk -f compiler/tools/layers.awk -v order="$(STAGES) print" $(SRC) $(CLI) $(PRINT) $(HEADERS) compiler/catalogue/*.def
headers: $(GEN)/script.h $(GEN)/scan.h ## each header compiles alone
	@for h in $(filter-out compiler/print/ink.h,$(HEADERS)); do echo "#include \"$${h#compiler/}\"" | $(CC) $(CFLAGS) $(WARN) $(INC) -fsyntax-only -x c - || { echo "$$h does not stand alone"; exit 1; }; done
no-globals: $(OBJ) $(CLI_OBJ) ## no object has writable data
	@objdump -t $^ | awk '/file format/ { f = $$1 } NF < 5 { next } $$(NF-2) ~ /^(\.t?data|\.t?bss|\*COM\*)/ && $$(NF-2) !~ /^\.data\.rel\.ro/ && $$(NF-1) !~ /^0+$$/ { print f, $$NF, "is writable"; bad = 1 } END { exit bad }'
no-libm: $(OBJ) $(CLI_OBJ) ## of the maths library only sqrt floor fabs fmod
	@comm -12 <(nm -u $^ | awk 'NF == 2 { print $$2 }' | sort -u) \
	  <(nm -D --defined-only "$$($(CC) -print-file-name=libm.so.6)" | awk '{ sub(/@.*/, "", $$3); print $$3 }' | sort -u) \
	  | grep -vxE 'sqrt|floor|fabs|fmod' && exit 1 || exit 0
lint: $(B)/tool-lint ## the rules of the catalogue
	@$(B)/tool-lint
size: ## files over 800 lines and functions over 60 fail; those over 40 are listed
	@awk -f compiler/tools/size.awk $(SRC) $(CLI) $(PRINT)

# ---- the manual, and what goes onto a system ----
MANUAL  := build/manual
manual: all build/deps-manual ## the reference manual and the man pages, every example compiled and drawn, to build/manual/
	@node compiler/tools/manual.mjs build/sagitta $(MANUAL)
VERSION  = $(shell sed -n 's/^.define SG_VERSION "\(.*\)"/\1/p' compiler/sagitta.h)
TO       = $(DESTDIR)$(PREFIX)
INSTALLED = bin/sagitta libexec/sagitta/sagitta-print lib/libsagitta.a lib/pkgconfig/sagitta.pc include/sagitta.h share/man/man1/sagitta.1 share/man/man5/sagitta.5 \
  share/doc/sagitta/manual.html share/doc/sagitta/example.c share/doc/sagitta/LICENSE share/doc/sagitta/face-licence.txt
build/sagitta.pc: compiler/sagitta.h Makefile FORCE
	@printf '%s\n' 'prefix=$(PREFIX)' 'libdir=$${prefix}/lib' 'includedir=$${prefix}/include' '' 'Name: sagitta' \
	  'Description: Solves and draws the constructions of optics from a script' 'Version: $(VERSION)' \
	  'Cflags: -I$${includedir}' 'Libs: -L$${libdir} -lsagitta -lm' > $@
install: all library manual build/sagitta.pc ## programs, library, header, man pages and manual, to PREFIX (/usr/local), below DESTDIR
	install -D -m 755 build/sagitta $(TO)/bin/sagitta
	install -D -m 755 build/sagitta-print $(TO)/libexec/sagitta/sagitta-print
	install -D -m 644 $(B)/libsagitta.a $(TO)/lib/libsagitta.a
	install -D -m 644 build/sagitta.pc $(TO)/lib/pkgconfig/sagitta.pc
	install -D -m 644 compiler/sagitta.h $(TO)/include/sagitta.h
	install -D -m 644 $(MANUAL)/sagitta.1 $(TO)/share/man/man1/sagitta.1
	install -D -m 644 $(MANUAL)/sagitta.5 $(TO)/share/man/man5/sagitta.5
	install -d $(TO)/share/doc/sagitta
	install -m 644 $(MANUAL)/manual.html runtime/manual/example.c LICENSE runtime/face-licence.txt $(TO)/share/doc/sagitta
uninstall: ## takes away what install put there
	rm -f $(addprefix $(TO)/,$(INSTALLED))
	@for folder in share/doc/sagitta libexec/sagitta; do [ ! -d "$(TO)/$$folder" ] || rmdir --ignore-fail-on-non-empty "$(TO)/$$folder"; done
clean: ## remove build/
	rm -rf build
help: ## this list
	@awk -F ':.*## ' '/^[a-z-]+:.*## / { printf "  make %-14s %s\n", $$1, $$2 }' Makefile
