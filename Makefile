# Sagitta. `make help` lists the targets. PROFILE=release|san|debug picks flags and build folder, so objects never mix.
SHELL := /bin/bash
PROFILE ?= release
CC      ?= gcc
B       := build/$(PROFILE)
WARN    := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wswitch-enum -Wmissing-prototypes -Wstrict-prototypes -Wvla -Werror
FLAGS_release := -O2
FLAGS_debug   := -O0 -g
FLAGS_san     := -O1 -g -fno-omit-frame-pointer -fsanitize=address,undefined -fno-sanitize-recover=all
# No contraction and no fast maths: the same bits on every machine.
CFLAGS  := -std=c11 -ffp-contract=off -fexcess-precision=standard $(FLAGS_$(PROFILE)) $(EXTRA)
LINK    := $(if $(filter release,$(PROFILE)),-static)
INC     := -Icompiler -I$(B)/gen -Ibuild/gen

STAGES  := base text messages catalogue tokens words tree model optics solved scene layout output
SRC     := $(foreach s,$(STAGES),$(sort $(wildcard compiler/$(s)/*.c))) compiler/driver.c
CLI     := compiler/cli/main.c
OBJ     := $(SRC:compiler/%.c=$(B)/%.o) $(B)/gen/script.o $(B)/gen/scan.o $(B)/gen/faces.o $(B)/gen/player.o
